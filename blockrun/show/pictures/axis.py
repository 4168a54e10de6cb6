"""Time across a sheet: days with their air, hours in which nobody works, and where the forecast ends."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.cure.air import air_of_days
from blockrun.files.day_names import day_name
from blockrun.show.head import air_said
from blockrun.show.page import GLUE
from blockrun.show.pictures.paper import points
from blockrun.site.calendar import moment_at

if TYPE_CHECKING:
    from blockrun.site import DayWeather, Site

LEFT: Final = 17.0
AIR_MM: Final = 9.0
"""Height of the curve of the air."""
_ROOM: Final = (17.0, 25.0, 38.0)
"""Width of a day that has room for its name, for its air too, and for its air in words."""
_STEPS: Final = 24


@dataclass(frozen=True)
class Span:
    """A stretch in which nobody works; a whole day of it may be closed."""

    x: float
    width: float
    closed: bool


@dataclass(frozen=True)
class Tick:
    """A time of day on paper."""

    x: float
    text: str
    midnight: bool


@dataclass(frozen=True)
class DayOnPaper:
    """A day: its name and air, and the curve of that, dashed where it is not forecast."""

    x: float
    name: str
    air: str
    curve: str
    guessed: bool


@dataclass(frozen=True)
class Join:
    """Where the forecast ends, and what stands for the days after it."""

    x: float
    words: str


class Axis:
    """So many days from the midnight of one on, up to a place on paper."""

    def __init__(self, site: Site, first: date, days: int, right: float) -> None:
        self._site, self._n, self.right = site, days, right
        self._midnight = moment_at(first)
        self._dates = [first + timedelta(days=n) for n in range(days)]
        self._air = [site.weather.day(day) for day in self._dates]

    def x(self, moment: datetime) -> float:
        """Where a moment lies on paper."""
        share = (moment - self._midnight) / timedelta(days=self._n)
        return round(LEFT + (self.right - LEFT) * share, 3)

    @property
    def _day_mm(self) -> float:
        return (self.right - LEFT) / self._n

    def spans(self) -> Iterator[Span]:
        """Nights, breaks and closed days."""
        for day in self._dates:
            since = moment_at(day)
            end = since + timedelta(days=1)
            working = self._site.calendar.is_working(day)
            for start, until in self._site.calendar.windows if working else ():
                yield self._span(since, moment_at(day, start), closed=False)
                since = moment_at(day, until)
            yield self._span(since, end, closed=not working)

    def _span(self, start: datetime, end: datetime, *, closed: bool) -> Span:
        return Span(self.x(start), self.x(end) - self.x(start), closed)

    def ticks(self) -> Iterator[Tick]:
        """Hours where there is room for them, and midnights."""
        every = next((hours for hours in (3, 6, 12) if self._day_mm * hours / 24 > 9.5), 24)
        for day in self._dates:
            for hour in range(0, 24, every):
                moment = datetime.combine(day, time(hour))
                yield Tick(self.x(moment), f"{hour}" if hour else "", not hour)

    def days(self) -> Iterator[DayOnPaper]:
        """Each day with its air; of many only some are named."""
        low, high = self._lowest, self._highest
        named = math.ceil(_ROOM[0] / self._day_mm)
        hours = np.linspace(0, 24, _STEPS + 1)
        for number, (day, air) in enumerate(zip(self._dates, self._air, strict=True)):
            midnight = moment_at(day)
            degrees = air_of_days([air], hours)[0]
            curve = [
                (self.x(midnight + timedelta(hours=float(hour))), AIR_MM * (high - degree) / (high - low))
                for hour, degree in zip(hours, degrees, strict=True)
            ]
            name = "" if number % named else day_name(day)
            yield DayOnPaper(self.x(midnight), name, self._air_words(air), points(curve), not air.forecast)

    def _air_words(self, air: DayWeather) -> str:
        if self._day_mm < _ROOM[1]:
            return ""
        said = air_said(air, self._site.units).partition(",")[0]
        words = said.replace(GLUE, " ").removeprefix("air ")
        return words if self._day_mm >= _ROOM[2] else words.rpartition(" ")[0]

    def level(self, celsius: float) -> float | None:
        """How far down the curve of the air a temperature lies; None where it is outside."""
        low, high = self._lowest, self._highest
        return AIR_MM * (high - celsius) / (high - low) if low <= celsius <= high else None

    @property
    def _lowest(self) -> float:
        return min(air.min_c for air in self._air) - 1

    @property
    def _highest(self) -> float:
        return max(air.max_c for air in self._air) + 1

    def join(self) -> Join | None:
        """Where the forecast ends, if it does between these days."""
        for before, day, air in zip(self._air, self._dates[1:], self._air[1:], strict=False):
            if before.forecast and not air.forecast:
                words = "a typical year" if air.typical else "a guess, their mean"
                return Join(self.x(moment_at(day)), words)
        return None
