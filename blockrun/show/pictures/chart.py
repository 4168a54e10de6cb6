"""The chart of foam weights and wet densities as a picture: values, the steps between them, and what they say."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.mix.chart import Signal
from blockrun.show.batch.charted import LOOK, Charted, limits_said, signal_said
from blockrun.show.lots import change_said
from blockrun.show.page import GLUE
from blockrun.show.pictures.paper import HEIGHT_MM, WIDTH_MM, points, render, wrapped
from blockrun.units import listed

MEAN, DUE, LIMIT = "mean", "due", "limit"
"""Kinds of line across a plot."""
LEFT: Final = 27.0
RIGHT: Final = 182.0
TOP: Final = 11.0
NAME_MM: Final = 4.0
VALUES_MM: Final = 43.0
STEPS_MM: Final = 20.0
BETWEEN_MM: Final = 5.0
PANEL_MM: Final = 82.0
A_SHEET: Final = 2
"""Charts that fill a sheet on its side."""
LETTERS: Final = 42
"""Letters of a line beside a chart."""
LINES: Final = 19
_MOST_MIXES: Final = 8
"""Changes of mix that are marked; where there are more, they alternate, and lines would hide the points."""
_EDGE_MM: Final = 4.4
"""So far from the edge of a plot are its outermost points and limits: names of mixes stand between."""
_LEVEL_MM: Final = 3.2
_LETTER_MM: Final = 1.7
_NAME_LETTERS: Final = 10
"""Last letters of the name of a batch: there one differs from the next."""


@dataclass(frozen=True)
class Mark:
    """A point: where, whether a signal is of it, and what it says when pointed at."""

    x: float
    y: float
    flagged: bool
    title: str


@dataclass(frozen=True)
class Level:
    """A line across a plot: of what kind it is, and words beside it, moved or left out where others stand."""

    y: float
    kind: str
    words: str
    words_y: float


@dataclass(frozen=True)
class Plot:
    """Points over batches, with their mean and limits, and what is due of them."""

    title: str
    top: float
    bottom: float
    levels: tuple[Level, ...]
    line: str
    marks: tuple[Mark, ...]
    mixes: tuple[tuple[float, str], ...] = ()


@dataclass(frozen=True)
class Panel:
    """One chart: its two plots, the names of its batches, and what it says; each line of that with whether it warns."""

    plots: tuple[Plot, Plot]
    names: tuple[tuple[float, float, str], ...]
    top: float
    says: tuple[tuple[str, bool], ...]


def chart_picture(each: Sequence[Charted], rules: str) -> str:
    """Draw charts, two on a sheet that A4 and Letter both hold on their side, sheet below sheet.

    Parameters
    ----------
    rules : what counts as a signal, in words.

    Returns
    -------
    SVG.
    """
    sheets = [[_panel(one, TOP + row * PANEL_MM) for row, one in enumerate(some)] for some in _by_sheet(each)]
    names = listed(list(dict.fromkeys(charted.name.partition(",")[0] for charted in each)))
    said = " ".join(line for one in each for line in (f"{one.name}:", *(words for words, _ in _said(one))))
    return render(
        "chart.svg.jinja",
        title=f"{names[:1].upper()}{names[1:]}, batch by batch",
         said=f"{said.replace(GLUE, ' ')} {rules}", sheets=sheets,
        rules=wrapped(rules, 140), left=LEFT, right=RIGHT, width=WIDTH_MM, height=HEIGHT_MM,
    ) + "\n"  # fmt: skip


def _by_sheet(each: Sequence[Charted]) -> Iterator[Sequence[Charted]]:
    return (each[start : start + A_SHEET] for start in range(0, len(each), A_SHEET))


def _panel(charted: Charted, top: float) -> Panel:
    values_at = top + NAME_MM
    steps_at = values_at + VALUES_MM + BETWEEN_MM
    says = [(line, warns) for words, warns in _said(charted) for line in wrapped(words, LETTERS)]
    if len(says) > LINES:
        says = [*says[: LINES - 1], ("and more: the command chart says all.", True)]
    return Panel(
        (_values(charted, values_at), _steps(charted, steps_at)),
        tuple(_names(charted, steps_at + STEPS_MM + 3.4)),
        values_at,
        tuple(says),
    )


def _said(charted: Charted) -> Iterator[tuple[str, bool]]:
    """What stands beside a chart, and whether it warns."""
    drawn, said = charted.chart, charted.said
    for change in charted.changes:
        yield change_said(change), change.is_new and not change.is_tried
    if charted.before is not None:
        before = charted.before
        usual = f", usual from {said(before.lower)} to {said(before.upper)}" if before.is_enough else ""
        yield f"Before it: mean {said(before.mean)}{usual}.", False
    due = "" if charted.due is None else f"; due {said(charted.due)}"
    yield f"Mean {said(drawn.mean)}{due}.", False
    if drawn.is_enough:
        yield f"Usual from {said(drawn.lower)} to {said(drawn.upper)}, steps up to {said(drawn.upper_range)}.", False
    for line in limits_said(drawn):
        yield line, False
    for found in drawn.found:
        yield f"{signal_said(found, charted)}.", True
    if drawn.found:
        yield LOOK, False
    elif drawn.is_enough:
        yield "No signal: the differences are chance.", False
    else:
        yield "Too few to say whether the differences are chance.", False


def _values(charted: Charted, top: float) -> Plot:
    drawn = charted.chart
    flagged = {
        index for found in drawn.found if found.signal.value != "jump" for index in range(found.first, found.last + 1)
    }
    titles = [
        f"batch {record.batch}: {charted.said(value)}"
        for record, value in zip(charted.records, drawn.values, strict=True)
    ]
    due = () if charted.due is None else ((charted.due, DUE),)
    limits = ((drawn.upper, LIMIT), (drawn.lower, LIMIT)) if drawn.is_enough else ()
    levels = ((drawn.mean, MEAN), *due, *limits)
    scale = _Scale.of([*drawn.values, *(value for value, _ in levels)], top, top + VALUES_MM)
    return Plot(
        charted.name, top, top + VALUES_MM, tuple(_levels(charted, levels, scale)),
        *_points(charted, drawn.values, flagged, titles, scale, 0), tuple(_mixes(charted)),
    )  # fmt: skip


def _steps(charted: Charted, top: float) -> Plot:
    drawn = charted.chart
    steps = [abs(later - earlier) for earlier, later in itertools.pairwise(drawn.values)]
    flagged = {found.first for found in drawn.found if found.signal is Signal.JUMP}
    titles = [
        f"step to batch {record.batch}: {charted.said(step)}"
        for record, step in zip(charted.records[1:], steps, strict=True)
    ]
    levels = ((drawn.mean_range, MEAN), *(((drawn.upper_range, LIMIT),) if drawn.is_enough else ()))
    scale = _Scale.of([*steps, *(value for value, _ in levels), 0.0], top, top + STEPS_MM)
    return Plot(
        "step from batch to batch", top, top + STEPS_MM, tuple(_levels(charted, levels, scale)),
        *_points(charted, steps, flagged, titles, scale, 1),
    )  # fmt: skip


@dataclass(frozen=True)
class _Scale:
    """How far down on paper a value stands."""

    low: float
    mm_each: float
    bottom: float

    @classmethod
    def of(cls, every: Iterable[float], top: float, bottom: float) -> _Scale:
        """A scale that holds all of some values between two edges; all in the middle where they are one."""
        values = list(every)
        low, high = min(values), max(values)
        if high > low:
            return cls(low, (bottom - top - 2 * _EDGE_MM) / (high - low), bottom - _EDGE_MM)
        return cls(low, 0.0, (top + bottom) / 2)

    def down(self, value: float) -> float:
        return self.bottom - (value - self.low) * self.mm_each


def _levels(charted: Charted, levels: Iterable[tuple[float, str]], scale: _Scale) -> Iterator[Level]:
    """Lines across, the most telling first: what is due makes room for the mean, a limit is silent where they are."""
    taken: list[float] = []
    for value, kind in levels:
        y = at = scale.down(value)
        if kind == DUE and abs(at - taken[0]) < _LEVEL_MM:
            at = taken[0] + (_LEVEL_MM if at >= taken[0] else -_LEVEL_MM)
        free = all(abs(at - other) >= _LEVEL_MM - 1e-9 for other in taken)
        words = f"due {charted.said(value)}" if kind == DUE else charted.said(value)
        if free:
            taken.append(at)
        yield Level(y, kind, words if free else "", at)


def _points(
    charted: Charted, values: Sequence[float], flagged: set[int], titles: Sequence[str], scale: _Scale, first: int
) -> tuple[str, tuple[Mark, ...]]:
    """The line through values and their marks; ``first`` is the batch that the first is of."""
    n = len(charted.records)
    marks = tuple(
        Mark(_across(index + first, n), scale.down(value), index in flagged, titles[index])
        for index, value in enumerate(values)
    )
    return points([(mark.x, mark.y) for mark in marks]), marks


def _mixes(charted: Charted) -> Iterator[tuple[float, str]]:
    """Where another mix begins, and its name."""
    mixes = [record.mix for record in charted.records]
    begins = [0, *(at for at in range(1, len(mixes)) if mixes[at] != mixes[at - 1])]
    if 1 < len(begins) <= _MOST_MIXES + 1:
        for at in begins:
            yield _across(max(0.0, at - 0.5), len(mixes)), mixes[at] or "no mix told"


def _across(index: float, n: int) -> float:
    return LEFT + 4 + (RIGHT - LEFT - 8) * index / max(1, n - 1)


def _names(charted: Charted, y: float) -> Iterator[tuple[float, float, str]]:
    """Names of batches below a plot, as many as there is room for."""
    names = [record.batch[-_NAME_LETTERS:] for record in charted.records]
    room = (_across(1, len(names)) - _across(0, len(names))) / (_LETTER_MM * (1 + max(map(len, names))))
    every = max(1, -int(-1 // max(room, 1e-9)))
    yield from ((_across(index, len(names)), y, names[index]) for index in range(0, len(names), every))
