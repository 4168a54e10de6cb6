"""A typical year: a day of the air for each day of the calendar, in no year in particular."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from datetime import date
from typing import Final

from blockrun.site.weather.day import DayWeather, Sky

_NO_LEAP_YEAR: Final = 2001
DAYS: Final = 365


@dataclass(frozen=True)
class TypicalYear:
    """Hourly air of a year that stands for any.

    Parameters
    ----------
    place : where it is typical, as its file says.
    skies : 365 days from 1 January, without 29 February, each with its air by the hour.
    """

    place: str
    skies: tuple[Sky, ...]

    def day(self, day: date) -> DayWeather:
        """The air of a day of the calendar; 29 February has that of the day before it."""
        index = day.replace(year=_NO_LEAP_YEAR, day=min(day.day, 28) if day.month == 2 else day.day)
        return self._days[index.timetuple().tm_yday - 1]

    @functools.cached_property
    def _days(self) -> tuple[DayWeather, ...]:
        return tuple(DayWeather(min(sky.air_c), max(sky.air_c), False, True, sky) for sky in self.skies)
