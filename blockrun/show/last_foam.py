"""When the last foam of a day goes in: at the hour of the yard, or sooner where heat ends it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockrun.cure.pour_life import hot_stretches
from blockrun.files.day_names import clock

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.site import Site


def last_foam_said(day: Day, site: Site) -> str:
    """The time of day after which no foam goes in; empty where nothing is poured, and where work ends before it."""
    if not day.pours:
        return ""
    calendar = site.calendar
    last_min = calendar.last_foam_min
    quickest_min = min(pour.until_poured_min for pour in day.pours)
    for first, end in hot_stretches(site, day.weather, quickest_min):
        # heat at every hour ends nothing: what is poured all the same is told of each batch
        if calendar.begins_min < first <= min(last_min, calendar.ends_min - 1) < end:
            last_min = first - 1
    return clock(last_min) if last_min < calendar.ends_min else ""
