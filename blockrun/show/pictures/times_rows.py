"""One kind of mould on one day of pouring: a line for each hour, from the pour to sides, strip, move and laying."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock, day_name, moment_name
from blockrun.show.pictures.axis import Axis
from blockrun.show.pictures.paper import wrapped
from blockrun.show.times import day_of, frozen_said, strip_said, too_late_said, when_said

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from blockrun.planner.times import DayTimes, Times

ROW: Final = 4.4
HEAD: Final = 5.2
LINE: Final = 3.9
_BESIDE: Final = 2.6
"""Least distance of two marks, so that both are seen."""
_COLUMNS: Final = (121.0, 140.0, 159.0, 171.0)
"""Where the words of sides, strip, move and lay begin."""
_LETTERS: Final = 100


def right_of(based: bool) -> float:
    """Where the axis ends: before the words of the first column there is."""
    return _COLUMNS[0 if based else 1] - 3


@dataclass(frozen=True)
class Row:
    """One pour on paper: places of the pour, the sides, the age reached, the strip and the move, and words for each."""

    y: float
    text: str
    title: str
    last: bool
    poured: float
    sides: float | None
    ripe: float
    strip: float
    move: float
    words: tuple[tuple[float, str], ...]


@dataclass(frozen=True)
class Group:
    """All pours of a day in moulds that come to the same."""

    name: str
    columns: tuple[tuple[float, str], ...]
    rows: tuple[Row, ...]
    stopped: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def rows_mm(self) -> float:
        """Height of its rows."""
        return ROW * len(self.rows)

    @property
    def height(self) -> float:
        """All of it."""
        return HEAD + self.rows_mm + LINE * (len(self.notes) + len(self.stopped)) + 2.0


def group_of(day: DayTimes, name: str, axis: Axis) -> Group:
    """Lay out a day of moulds that come to the same."""
    if day.stopped:
        return Group(name, (), (), tuple(wrapped(f"No pour: {day.stopped}.", _LETTERS - 8)), ())
    last = {times.poured for times in day.last}
    pours = {times.poured: times for times in (*day.hours, *day.last)}
    rows = tuple(_row(number, pours[at], at in last, axis) for number, at in enumerate(sorted(pours)))
    sides = any(row.sides is not None for row in rows)
    names = zip(_COLUMNS, ("sides off", "strip", "move", "lay from"), strict=True)
    columns = tuple(column for column in names if sides or column[1] != "sides off")
    return Group(name, columns, rows, (), tuple(wrapped_all(_notes(day), _LETTERS)))


def _notes(day: DayTimes) -> Iterator[str]:
    if day.too_late:
        yield f"{too_late_said(day)}."
    yield from frozen_said(day)


def wrapped_all(said: Iterable[str], letters: int) -> Iterator[str]:
    """Sentences as lines, each beginning one."""
    for one in said:
        yield from wrapped(one, letters)


def _row(number: int, times: Times, last: bool, axis: Axis) -> Row:
    strip = axis.x(times.strip)
    words = [] if times.sides is None else [(_COLUMNS[0], when_said(times.sides, times))]
    words += [
        (_COLUMNS[1], strip_said(times)),
        (_COLUMNS[2], clock(times.move)),
        (_COLUMNS[3], day_name(times.lay).partition(" ")[2]),
    ]
    return Row(
        y=ROW * (number + 0.5),
        text=f"by {clock(times.poured)}" if last else clock(times.poured),
        title=f"{'the latest stripped that day: ' if last else ''}{row_said(times)}",
        last=last,
        poured=axis.x(times.poured),
        sides=None if times.sides is None else axis.x(times.sides),
        ripe=axis.x(times.ripe),
        strip=strip,
        move=max(axis.x(times.move), strip + _BESIDE),
        words=tuple(words),
    )


def row_said(times: Times) -> str:
    """Say what a row shows."""
    sides = "" if times.sides is None else f"sides off {day_of(times.sides, times)} {clock(times.sides)}, "
    return (
        f"poured {clock(times.poured)}, {sides}stripped from {moment_name(times.strip)}, "
        f"moved {clock(times.move)}, laid from {day_name(times.lay)}"
    )
