"""The site of a plan in the air that was seen; and what is far from the air that was forecast."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.site.weather import SeenWeather
from blockrun.yard.journal.events import WeatherSeen

if TYPE_CHECKING:
    from datetime import date

    from blockrun.site import DayWeather, Site

FAR_C: Final = 12.0
"""From the forecast so far is nearly all air that is told in the other degrees, and little else (our choice)."""


def site_as_it_went(site: Site, seen: Mapping[date, WeatherSeen], lost: frozenset[date]) -> Site:
    """The same site in the air that was seen, lost days closed."""
    air = {day: (told.min_degc, told.max_degc) for day, told in seen.items()}
    calendar = site.calendar.model_copy(update={"closed": site.calendar.closed | lost})
    return site.model_copy(update={"weather": SeenWeather.over(site.weather, air), "calendar": calendar})


class OffForecast(NamedTuple):
    """By how many kelvins the least and the most of a day are over what was forecast."""

    least: float
    most: float

    @property
    def is_far(self) -> tuple[bool, bool]:
        """Whether each is further from the forecast than air is."""
        return abs(self.least) > FAR_C, abs(self.most) > FAR_C

    @property
    def is_far_warmer(self) -> bool:
        """Whether one of them is, and above it."""
        return max(self) > FAR_C


def off_forecast(seen: WeatherSeen, forecast: Site) -> OffForecast:
    """How far air that was seen is from the forecast."""
    due = expected(forecast, seen.day)
    return OffForecast(seen.min_degc - due.min_c, seen.max_degc - due.max_c)


def expected(forecast: Site, day: date) -> DayWeather:
    """The air of a day as forecast; before the first day of the weather, the air of that."""
    return forecast.weather.day(max(day, forecast.weather.first))
