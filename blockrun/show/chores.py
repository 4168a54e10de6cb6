"""Chores as the weather of a day leaves them: in frost nothing is wetted, and in the cold all is covered."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.cure.hazards import COLD_C, FREEZING_C
from blockrun.show.page import glued
from blockrun.show.words import day_name
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.site import DayWeather, Site

NOT_TODAY: Final = "NOT TODAY: FROST"
A_WEEK: Final = 7
UNLESS_WET: Final = "frost: not if it wets blocks"
COVER: Final = "cover moulds and racks"

_WETS: Final = re.compile(r"\b(wet|water|damp|moist|spray|sprinkl|hose|soak|mist|douse|rinse)", re.IGNORECASE)
"""Words a chore that wets blocks is named by (our choice); of another name nobody can tell."""


class Chores(NamedTuple):
    """Names of chores that are done, and of those that are left out that day."""

    done: tuple[str, ...]
    left_out: tuple[str, ...] = ()


def chores_in(air: DayWeather, names: Sequence[str]) -> Chores:
    """What of some chores is done in the air of a day: in frost nothing that wets."""
    if not freezes(air):
        return Chores(tuple(names))
    wet = tuple(name for name in names if _WETS.search(name))
    return Chores(tuple(name for name in names if name not in wet), wet)


def freezes(air: DayWeather) -> bool:
    """Whether there is frost, as far as a forecast or a typical year tells."""
    return _is_told(air) and air.min_c <= FREEZING_C


class Covering(NamedTuple):
    """When moulds and racks are covered, and why."""

    at: datetime
    why: str


def covering(day: Day, site: Site) -> Covering | None:
    """When a day has moulds and racks covered: on a cold one first of all, on the eve of one last of all.

    None where nobody is there, or where it is not cold; the morning after a cold day they are covered already, and a
    tick says that they still are.
    """
    if not day.jobs:
        return None
    opens, closes = site.calendar.open_min, site.calendar.close_min
    if _is_cold(day.weather):
        return Covering(_at(day, opens), f"{_degrees(day.weather, site)} today")
    for night in _until_somebody_is_there(day, site):
        if _is_cold(air := site.weather.day(night)):
            return Covering(_at(day, closes), f"{_degrees(air, site)} on {day_name(night)}, coldest before it is light")
    return None


def frost_ahead(day: Day, site: Site) -> date | None:
    """The first day of frost after a day, up to the first that is worked; None where there is none."""
    ahead = (after for after in _until_somebody_is_there(day, site) if freezes(site.weather.day(after)))
    return next(ahead, None)


def _until_somebody_is_there(day: Day, site: Site) -> Iterator[date]:
    """Days after one, up to the first that is worked."""
    after = day.day + timedelta(days=1)
    yield after
    while not site.calendar.is_working(after) and (after - day.day).days < A_WEEK:
        after += timedelta(days=1)
        yield after


def _is_cold(air: DayWeather) -> bool:
    return _is_told(air) and air.min_c < COLD_C


def _is_told(air: DayWeather) -> bool:
    return air.forecast or air.typical


def _at(day: Day, minute: int) -> datetime:
    return datetime.combine(day.day, time()) + timedelta(minutes=minute)


def _degrees(air: DayWeather, site: Site) -> str:
    return glued(show(round(air.min_c, 1), "temperature", site.units))
