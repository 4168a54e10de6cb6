"""Working days and working minutes.

::

    open                                                                    close
    |<- set_up ->|<---- window ---->|<- break ->|<---- window ---->|<- close_down ->|
"""

from __future__ import annotations

import functools
from datetime import date, datetime, time, timedelta
from typing import Annotated

from pydantic import AfterValidator, Field

from blockrun.site.fields import Clock, Day, Span, Weekday, whole_minutes
from blockrun.site.file_model import FileModel

_ONE_DAY = timedelta(days=1)
_ONE_MINUTE = timedelta(minutes=1)


class Calendar(FileModel):
    """When the yard works. Minutes of the day count from midnight; spans are half-open."""

    start: Day = Field(description="The first day of the plan")
    workdays: frozenset[Weekday] = Field(min_length=1, description="Days of the week worked")
    hours: Span = Field(description="Opening and closing time of a working day")
    breaks: Annotated[tuple[Span, ...], AfterValidator(lambda spans: tuple(sorted(spans)))] = Field(
        default=(), description="Spans in which no task runs"
    )
    closed: frozenset[Day] = Field(default=frozenset(), description="Days not worked")
    set_up_min: Annotated[int, whole_minutes("30 min", least=0)] = Field(
        default=0, description="Start of a working day in which no other task runs; a time"
    )
    close_down_min: Annotated[int, whole_minutes("30 min", least=0)] = Field(
        default=0, description="End of a working day in which no other task runs; a time"
    )
    last_foam: Clock | None = Field(default=None, description="No foam goes in after this time of day")

    @property
    def open_min(self) -> int:
        """Opening time, minute of the day."""
        return self.hours[0]

    @property
    def close_min(self) -> int:
        """Closing time, minute of the day."""
        return self.hours[1]

    @property
    def last_foam_min(self) -> int:
        """The last minute of the day at which foam may go in; closing time unless told."""
        return self.close_min if self.last_foam is None else self.last_foam

    @property
    def windows(self) -> tuple[tuple[int, int], ...]:
        """Working spans of a working day: its hours less breaks, set-up and close-down. May be empty."""
        return _windows(self.open_min + self.set_up_min, self.close_min - self.close_down_min, self.breaks)

    @property
    def begins_min(self) -> int:
        """The first working minute of a working day; there must be one."""
        return self.windows[0][0]

    @property
    def ends_min(self) -> int:
        """When the last working span of a working day ends; there must be one."""
        return self.windows[-1][1]

    def minute_of(self, moment: datetime) -> int:
        """The minute of a moment, from midnight before the first day on; what was sooner is taken as that."""
        return max(0, (moment - moment_at(self.start, 0)) // _ONE_MINUTE)

    def moment_of(self, minute: int) -> datetime:
        """The moment of such a minute."""
        return moment_at(self.start, int(minute))

    def is_working(self, day: date) -> bool:
        """Whether the yard works on this day."""
        return day.weekday() in self.workdays and day not in self.closed

    def next_working_day(self, day: date, n: int = 0) -> date:
        """Return the day itself if it is worked, else the next that is; then ``n`` (>= 0) working days further on."""
        while True:
            if self.is_working(day):
                if n == 0:
                    return day
                n -= 1
            day += _ONE_DAY

    def next_working_minute(self, moment: datetime) -> datetime:
        """Return the first working minute at or after a moment."""
        whole = moment.replace(second=0, microsecond=0)
        whole += _ONE_MINUTE if whole < moment else timedelta(0)
        day, minute = whole.date(), whole.hour * 60 + whole.minute
        if self.is_working(day):
            for start, end in self.windows:
                if minute < end:
                    return moment_at(day, max(minute, start))
        return moment_at(self.next_working_day(day + _ONE_DAY), self.begins_min)

    def next_stretch(self, moment: datetime, minutes: int) -> datetime:
        """Return the first moment at or after one from which a task of so many minutes lies in one part of a day.

        It must be one that fits some part of a day.
        """
        while True:
            at = self.next_working_minute(moment)
            of_day = at.hour * 60 + at.minute
            end = next(end for start, end in self.windows if start <= of_day < end)
            if of_day + minutes <= end:
                return at
            moment = moment_at(at.date(), end)


@functools.lru_cache
def _windows(start: int, end: int, breaks: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
    """What is left of a span between breaks that are sorted by their start."""
    free: list[tuple[int, int]] = []
    for pause_from, pause_to in (*breaks, (end, end)):
        if start < min(pause_from, end):
            free.append((start, min(pause_from, end)))
        start = max(start, pause_to)
    return tuple(free)


def moment_at(day: date, minute: int = 0) -> datetime:
    """The moment so many minutes after midnight of a day."""
    return datetime.combine(day, time()) + timedelta(minutes=minute)
