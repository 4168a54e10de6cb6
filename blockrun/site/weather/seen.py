"""The air of each day as somebody saw it, and as forecast where nobody did."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from datetime import date

from blockrun.site.weather.day import NOTHING, DayWeather
from blockrun.site.weather.days import Weather


@dataclass(frozen=True)
class SeenWeather(Weather):
    """Weather of which some days were seen.

    Parameters
    ----------
    seen : (min, max) in degC of such days; what else is known of them stands as forecast.
    """

    seen: Mapping[date, tuple[float, float]] = field(default_factory=dict)

    @classmethod
    def over(cls, weather: Weather, seen: Mapping[date, tuple[float, float]]) -> SeenWeather:
        """The same weather, but for the days that were seen."""
        return cls(**{each.name: getattr(weather, each.name) for each in fields(Weather)}, seen=seen)

    def day(self, day: date) -> DayWeather:
        """The air of a day: between the least and the most that were seen, else as given."""
        found = self.seen.get(day)
        if found is None:
            return super().day(day)
        sky = super().day(day).sky._replace(air_c=()) if day >= self.first else NOTHING
        return DayWeather(*found, forecast=True, sky=sky)
