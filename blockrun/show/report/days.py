"""Days across a chart: their places, the weeks that are named, and the days on which nobody works."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.files.day_names import MONTHS, day_name
from blockrun.site.calendar import moment_at

if TYPE_CHECKING:
    from blockrun.site import Calendar

GUTTER: Final = 128
"""Room for names at the left of a chart, in its units."""
_RIGHT: Final = 10
_ROOM: Final = 900.0
_WIDEST_DAY: Final = 26.0
_NARROWEST_DAY: Final = 3.0
_TICK: Final = 74.0
"""Room for the name of a day."""


class Tick(NamedTuple):
    """A line across the chart with the name of its day."""

    x: float
    text: str


class Days:
    """So many days from one on, side by side.

    Parameters
    ----------
    calendar : which of them are worked.

    Attributes
    ----------
    day_width, width : of a day, and of the whole chart.
    left, right : where the days begin and end.
    """

    left: Final = GUTTER

    def __init__(self, first: date, n_days: int, calendar: Calendar) -> None:
        self.first, self.n_days, self._calendar = first, n_days, calendar
        self.day_width = max(_NARROWEST_DAY, min(_WIDEST_DAY, _ROOM / n_days))
        self.right = round(GUTTER + self.day_width * n_days)
        self.width = self.right + _RIGHT

    def x(self, moment: datetime) -> float:
        """Where a moment lies."""
        apart = moment - moment_at(self.first)
        return round(GUTTER + self.day_width * (apart / timedelta(days=1)), 1)

    def of(self, day: date) -> float:
        """Where a day begins."""
        return round(GUTTER + self.day_width * (day - self.first).days, 1)

    def each(self) -> Iterator[date]:
        """All the days."""
        return (self.first + timedelta(days=n) for n in range(self.n_days))

    def closed(self) -> list[float]:
        """Where the days begin on which nobody works."""
        return [self.of(day) for day in self.each() if not self._calendar.is_working(day)]

    def ticks(self) -> list[Tick]:
        """Mondays, or first days of months where Mondays stand too close; a name needs room before the end."""
        ticks = self._mondays() if 7 * self.day_width >= _TICK else self._months()
        last = self.width - _TICK
        return [tick if tick.x <= last else Tick(tick.x, "") for tick in ticks]

    def _mondays(self) -> list[Tick]:
        return [Tick(self.of(day), day_name(day)) for day in self.each() if day.weekday() == 0]

    def _months(self) -> list[Tick]:
        return [
            Tick(self.of(day), f"{MONTHS[day.month - 1]} {day.year}" if day.month == 1 else MONTHS[day.month - 1])
            for day in self.each()
            if day.day == 1
        ]
