"""Working days and working minutes, counted from the hours, breaks and closed days of the site alone.

Minutes and days are whole numbers from midnight at the start of ``calendar.start``: minute 0 is the first
minute of day 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import count
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from blockrun.site import Calendar

DAY: Final = 1440
"""Minutes a day; clocks are not put forward or back (our choice)."""

_WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def windows_of(calendar: Calendar) -> tuple[tuple[int, int], ...]:
    """Stretches of a working day without break, set-up or close-down.

    Returns
    -------
    ``(from, to)`` in minutes of the day, half-open, in order, none empty.
    """
    at, close = calendar.open_min + calendar.set_up_min, calendar.close_min - calendar.close_down_min
    windows = []
    for pause, again in sorted(calendar.breaks):
        windows.append((at, min(pause, close)))
        at = max(at, again)
    windows.append((at, close))
    return tuple((start, end) for start, end in windows if start < end)


@dataclass(frozen=True)
class WorkingTime:
    """When work may be done.

    Attributes
    ----------
    start : date of day 0; no day before it is worked.
    workdays : days of the week that are worked, 0 is Monday.
    closed : dates that are not worked.
    windows : as :func:`windows_of` gives them, the same every working day.
    """

    start: date
    workdays: frozenset[int]
    closed: frozenset[date]
    windows: tuple[tuple[int, int], ...]

    @classmethod
    def of(cls, calendar: Calendar) -> WorkingTime:
        """Count the working time of a calendar."""
        return cls(calendar.start, frozenset(calendar.workdays), frozenset(calendar.closed), windows_of(calendar))

    def date_of(self, day: int) -> date:
        """Date of a day number."""
        return self.start + timedelta(days=day)

    def is_working(self, day: int) -> bool:
        """Tell whether anything may be done on a day."""
        return day >= 0 and self._is_workday(day)

    def _is_workday(self, day: int) -> bool:
        on = self.date_of(day)
        return on.weekday() in self.workdays and on not in self.closed

    def working_day(self, day: int, later: int = 0) -> int:
        """Day number of the day itself, or else the next that is worked, and so many working days later.

        Need dates are counted with it, so days before the start count too.
        """
        days = (n for n in count(day) if self._is_workday(n))
        for _ in range(later):
            next(days)
        return next(days)

    def holds(self, start: int, end: int) -> bool:
        """Tell whether a task lies in one stretch of working minutes; a task of no length lies anywhere."""
        if start == end:
            return True
        day, minute = divmod(start, DAY)
        inside = any(from_ <= minute and minute + (end - start) <= to for from_, to in self.windows)
        return inside and self.is_working(day)

    def first_minute(self, minute: int) -> int:
        """First working minute at or after a minute."""
        day, of_day = divmod(minute, DAY)
        if self.is_working(day):
            for start, end in self.windows:
                if of_day < end:
                    return day * DAY + max(start, of_day)
        return self.working_day(day + 1) * DAY + self.windows[0][0]

    def day_text(self, day: int) -> str:
        """Say a day, such as ``Tue 6 Apr``, with the year where it is not the first one."""
        on = self.date_of(day)
        year = "" if on.year == self.start.year else f" {on.year}"
        return f"{_WEEKDAYS[on.weekday()]} {on.day} {_MONTHS[on.month - 1]}{year}"

    def minute_text(self, minute: int) -> str:
        """Say a minute, such as ``Tue 6 Apr 08:40``."""
        return f"{self.day_text(minute // DAY)} {clock_text(minute)}"


def clock_text(minute: int) -> str:
    """Say the time of day of a minute, such as ``08:40``."""
    return f"{minute % DAY // 60:02d}:{minute % 60:02d}"
