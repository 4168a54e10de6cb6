"""The site of a plan in the air that was seen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from blockrun.site.weather import SeenWeather
from blockrun.yard.journal.events import WeatherSeen

if TYPE_CHECKING:
    from datetime import date

    from blockrun.site import Site


def site_as_it_went(site: Site, seen: Mapping[date, WeatherSeen], lost: frozenset[date]) -> Site:
    """The same site in the air that was seen, lost days closed."""
    air = {day: (told.min_degc, told.max_degc) for day, told in seen.items()}
    calendar = site.calendar.model_copy(update={"closed": site.calendar.closed | lost})
    return site.model_copy(update={"weather": SeenWeather.over(site.weather, air), "calendar": calendar})
