"""When what is poured at each hour may be stripped, drawn: a line for each hour, from the pour to the strip."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.show.pictures.paper import render
from blockrun.show.times import how_said, kinds_said, last_said, too_late_said
from blockrun.show.words import clock, day_name, full_day_name

if TYPE_CHECKING:
    from blockrun.planner.times import DayTimes, Times, YardTimes
    from blockrun.site import Site

_WIDTH: Final = 190.0
_LEFT: Final = 16.0
_RIGHT: Final = 186.0
_TOP: Final = 15.2
_LINE: Final = 3.6
_ROW: Final = 4.0
_HEAD: Final = 9.0
_GAP: Final = 4.0
_FOOT: Final = 12.0
_MOST_ROWS: Final = 400
_MOST_DATES: Final = 10
"""Dates that fit side by side."""

_LETTERS: Final = 130
"""Letters that fit on a line."""


@dataclass(frozen=True)
class Span:
    """A stretch of time on paper."""

    x: float
    width: float


@dataclass(frozen=True)
class Tick:
    """A time of day on paper."""

    x: float
    text: str
    midnight: bool


@dataclass(frozen=True)
class Row:
    """One hour of pouring on paper: places of the pour, the sides, the age reached and the strip."""

    y: float
    text: str
    title: str
    poured: float
    bared: float | None
    ripe: float
    strip: float


@dataclass(frozen=True)
class Panel:
    """One day of pouring on paper."""

    y: float
    height: float
    heading: str
    closed: tuple[Span, ...]
    ticks: tuple[Tick, ...]
    rows: tuple[Row, ...]
    notes: tuple[str, ...]


def times_picture(site: Site, times: YardTimes) -> str:
    """Draw the times of some days as one SVG picture.

    Raises
    ------
    BadInput : there are more hours than a picture can show.
    """
    shown = [(of_kind, day) for of_kind in times.kinds for day in of_kind.days]
    if sum(len(day.hours) for _, day in shown) > _MOST_ROWS:
        raise BadInput(f"there are more than {_MOST_ROWS} hours of pouring to draw", "Ask for fewer days.")
    days = max((_days_of(day) for _, day in shown), default=1)
    says = [line for said in how_said(site, times) for line in textwrap.wrap(said, _LETTERS)]
    panels, y = [], _TOP + _LINE * len(says)
    for of_kind, day in shown:
        panel = _Panel(site, day, days, y).panel(f"{kinds_said(of_kind)}: " if len(times.kinds) > 1 else "")
        panels.append(panel)
        y += panel.height + _GAP
    title = f"{site.name}: from pour to strip"
    based = any(row.bared is not None for one in panels for row in one.rows)
    room = {"width": _WIDTH, "height": y + _FOOT, "left": _LEFT, "row": _ROW, "head": _HEAD}
    return render("times.svg.jinja", title=title, says=says, panels=panels, based=based, **room) + "\n"


def _days_of(day: DayTimes) -> int:
    return max(((times.strip.date() - day.day).days + 1 for times in day.hours), default=1)


class _Panel:
    """Draws one day."""

    def __init__(self, site: Site, day: DayTimes, days: int, y: float) -> None:
        self._site, self._day, self._days, self._y = site, day, days, y
        self._midnight = datetime.combine(day.day, time())

    def panel(self, kinds: str) -> Panel:
        heading = f"{kinds}{full_day_name(self._day.day)}"
        if self._day.stopped:
            return Panel(self._y, _HEAD, f"{heading}: no pour, {self._day.stopped}", (), (), (), ())
        notes = tuple(last_said(times, self._day.hours) for times in self._day.last)
        notes += (f"{too_late_said(self._day)}.",) if self._day.too_late else ()
        rows = tuple(self._row(number, times) for number, times in enumerate(self._day.hours))
        height = _HEAD + _ROW * (len(rows) + len(notes))
        return Panel(self._y, height, heading, tuple(self._closed()), tuple(self._ticks()), rows, notes)

    def _x(self, moment: datetime) -> float:
        share = (moment - self._midnight) / timedelta(days=self._days)
        return round(_LEFT + (_RIGHT - _LEFT) * share, 3)

    def _row(self, number: int, times: Times) -> Row:
        bared = None if times.bared is None else self._x(times.bared)
        words = f"poured {clock(times.poured)}, stripped from {day_name(times.strip.date())} {clock(times.strip)}"
        y = self._y + _HEAD + _ROW * (number + 0.5)
        return Row(
            y, clock(times.poured), words, self._x(times.poured), bared, self._x(times.ripe), self._x(times.strip)
        )

    def _closed(self) -> Iterator[Span]:
        """Stretches in which nobody works."""
        since = self._midnight
        for start, end in self._open():
            if start > since:
                yield Span(self._x(since), self._x(start) - self._x(since))
            since = end
        end_of_all = self._midnight + timedelta(days=self._days)
        yield Span(self._x(since), self._x(end_of_all) - self._x(since))

    def _open(self) -> Iterator[tuple[datetime, datetime]]:
        for day in self._dates():
            if self._site.calendar.is_working(day):
                midnight = datetime.combine(day, time())
                for start, end in self._site.calendar.windows:
                    yield midnight + timedelta(minutes=start), midnight + timedelta(minutes=end)

    def _dates(self) -> Iterator[date]:
        return (self._day.day + timedelta(days=n) for n in range(self._days))

    def _ticks(self) -> Iterator[Tick]:
        """Noon and midnight, and more hours where there is room; of many days only some are named."""
        every = 6 if self._days <= 2 else 12 if self._days <= 5 else 24
        named = math.ceil(self._days / _MOST_DATES)
        for number, day in enumerate(self._dates()):
            for hour in range(0, 24, every):
                text = f"{hour}:00" if hour else "" if number % named else day_name(day)
                yield Tick(self._x(datetime.combine(day, time(hour))), text, hour == 0)
