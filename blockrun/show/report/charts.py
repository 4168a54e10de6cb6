"""Charts of a plan over time: states of blocks, what is taken from when to when, and an amount a day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.files.day_names import day_name
from blockrun.show.report.days import GUTTER, Days
from blockrun.units import digits

if TYPE_CHECKING:
    from datetime import datetime

    from blockrun.show.report.lives import Lives

TOP: Final = 22
"""Room for the names of days."""
_LANE: Final = 16
_BARS: Final = 92
_AREA: Final = 220
_FOOT: Final = 6
_LETTERS: Final = 16
"""Of a name at the left of a chart."""


@dataclass(frozen=True)
class Table:
    """A table beside a picture: its caption, heads and rows; the first cell of a row is its head."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: bool = True


class Bar(NamedTuple):
    """A bar: where, and what it is."""

    x: float
    y: float
    width: float
    height: float
    words: str
    alert: bool = False


class Framed:
    """A picture over days: what is shown stands between its top, over which days are named, and its floor."""

    height: float
    top: Final = TOP

    @property
    def floor(self) -> float:
        """Where amounts begin."""
        return self.height - _FOOT


class Level(NamedTuple):
    """A line across a chart with words at its left."""

    y: float
    text: str


@dataclass(frozen=True)
class Chart(Framed):
    """A picture over time.

    Parameters
    ----------
    title, said : what it shows, in a few words and in a sentence.
    levels : lines that say how much there is, or names of its lanes.
    lanes : whether its levels are names of lanes.
    table : with the same numbers.
    """

    title: str
    said: str
    days: Days
    height: float
    bars: tuple[Bar, ...]
    levels: tuple[Level, ...]
    lanes: bool
    table: Table


class Span(NamedTuple):
    """From when to when, and what that is."""

    since: datetime
    until: datetime
    words: str


def lanes(title: str, said: str, days: Days, spans: Iterable[tuple[str, Sequence[Span]]], table: Table) -> Chart:
    """A lane for each name, with a bar for each span."""
    bars, levels = list[Bar](), list[Level]()
    for number, (name, of_name) in enumerate(spans):
        top = TOP + number * _LANE
        levels.append(Level(top + _LANE / 2, _short(name)))
        for since, until, words in of_name:
            left, right = days.x(since), days.x(until)
            bars.append(Bar(left, top + 2, round(max(0.8, right - left), 1), _LANE - 4, words))
    height = TOP + len(levels) * _LANE + _FOOT
    return Chart(title, said, days, height, tuple(bars), tuple(levels), lanes=True, table=table)


def _short(name: str) -> str:
    """A name that has room beside its lane, without its middle where it is long: its end tells it apart."""
    return name if len(name) <= _LETTERS else f"{name[: _LETTERS // 2 - 1]}…{name[-_LETTERS // 2 :]}"


@dataclass(frozen=True)
class Amounts:
    """An amount a day: what is counted, or its unit; how much there is at the most; the days on which that ran out."""

    of: dict[date, float]
    unit: str
    most: float | None
    out: frozenset[date] = frozenset()


_MANY: Final = {"batch": "batches", "place": "places", "bag": "bags"}


def _in_words(amount: float, unit: str) -> str:
    """``1 batch``, ``7 batches``, ``2.5 L``: to a tenth, as nothing of a chart is read closer."""
    return f"{digits(round(amount, 1))} {unit if amount == 1 else _MANY.get(unit, unit)}"


def amounts(title: str, said: str, days: Days, a_day: Amounts, table: Table) -> Chart:
    """A bar for each day, under a line for what there is."""
    top = max([*a_day.of.values(), a_day.most or 0, 1e-9])
    floor = TOP + _BARS
    bars = []
    for day, amount in a_day.of.items():
        high, out = round(_BARS * amount / top, 1), day in a_day.out
        if amount:
            words = f"{day_name(day)}: {_in_words(amount, a_day.unit)}{', all there is' if out else ''}"
            wide = round(max(1.0, days.day_width * 0.8), 1)
            bars.append(Bar(round(days.of(day) + days.day_width * 0.1, 1), floor - high, wide, high, words, out))
    level = top if a_day.most is None else a_day.most
    levels = [Level(floor, "0"), Level(round(floor - _BARS * level / top, 1), _in_words(level, a_day.unit))]
    return Chart(title, said, days, floor + _FOOT, tuple(bars), tuple(levels), lanes=False, table=table)


class Band(NamedTuple):
    """A state of blocks over time."""

    state: int
    path: str


@dataclass(frozen=True)
class Bands(Framed):
    """Blocks by state, evening by evening, the laid ones at the bottom."""

    days: Days
    height: float
    bands: tuple[Band, ...]
    levels: tuple[Level, ...]


def bands(lives: Lives, days: Days) -> Bands:
    """All blocks of a plan by state over time."""
    total = sum(lives.blocks)
    floor = TOP + _AREA
    under = [0] * lives.n_days
    found = []
    for state in reversed(range(len(lives.counts[0]))):
        over = [low + count[state] for low, count in zip(under, lives.counts, strict=True)]
        if any(count[state] for count in lives.counts):
            lower, upper = ([round(floor - _AREA * n / total, 1) for n in edge] for edge in (under, over))
            found.append(Band(state, _band(upper, lower, days)))
        under = over
    levels = tuple(Level(round(floor - _AREA * n / total, 1), str(n)) for n in sorted({0, total // 2, total}))
    return Bands(days, floor + _FOOT, tuple(found), levels)


def _band(upper: Sequence[float], lower: Sequence[float], days: Days) -> str:
    """Steps from left to right along the upper edge, and back along the lower."""
    wide = days.day_width
    there = [f"M{GUTTER} {upper[0]:g}"]
    for n, y in enumerate(upper):
        there.append(f"V{y:g}H{GUTTER + wide * (n + 1):.6g}")
    for n in reversed(range(len(lower))):
        there.append(f"V{lower[n]:g}H{GUTTER + wide * n:.6g}")
    return "".join(there) + "z"
