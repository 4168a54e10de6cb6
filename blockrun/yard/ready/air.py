"""The air of each day as somebody saw it, and as forecast where nobody did."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from blockrun.site.weather import DayWeather, Weather
from blockrun.yard.journal.events import WeatherSeen

if TYPE_CHECKING:
    from datetime import date

    from blockrun.site import Site


@dataclass(frozen=True)
class Seen(Weather):
    """Weather of which some days were seen."""

    seen: Mapping[date, WeatherSeen] = field(default_factory=dict, compare=False)

    def day(self, day: date) -> DayWeather:
        """The air of a day: between the least and the most that were seen, else as given."""
        found = self.seen.get(day)
        if found is None:
            return super().day(day)
        sky = super().day(day).sky._replace(air_c=()) if day >= self.first else DayWeather(0, 0, forecast=True).sky
        return DayWeather(found.min_degc, found.max_degc, forecast=True, sky=sky)


def site_as_it_went(site: Site, seen: Mapping[date, WeatherSeen], lost: frozenset[date]) -> Site:
    """The same site in the air that was seen, lost days closed."""
    weather = {key: getattr(site.weather, key) for key in Weather.__dataclass_fields__}
    calendar = site.calendar.model_copy(update={"closed": site.calendar.closed | lost})
    return site.model_copy(update={"weather": Seen(**weather, seen=seen), "calendar": calendar})
