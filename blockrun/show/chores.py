"""Chores as weather and racks leave them: before frost nothing is wetted, and in the cold all is covered."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from blockrun.cure.air import air_of_days
from blockrun.cure.hazards import COLD_C, FREEZING_C
from blockrun.show.page import glued
from blockrun.show.words import day_name
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.show.day import Day, Job
    from blockrun.site import DayWeather, Site, Weather

FROST_TODAY: Final = "NOT TODAY: FROST"
FROST_TONIGHT: Final = "NOT TODAY: FROST TONIGHT"
RACKS_EMPTY: Final = "NOT NOW: RACKS EMPTY"
A_WEEK: Final = 7
UNLESS_WET: Final = "frost: not if it wets blocks"
COVER: Final = "cover moulds and racks"

_ROUNDING_C: Final = 1e-9

_WETS: Final = re.compile(r"\b(wet|water|damp|moist|spray|sprinkl|hose|soak|mist|douse|rinse)", re.IGNORECASE)
"""Words a chore that wets blocks is named by (our choice); of another name nobody can tell."""


_RACKS: Final = re.compile(r"\brack", re.IGNORECASE)
_NOON, _MIDNIGHT = 12, 24


class Chores(NamedTuple):
    """Names of chores that are done at a time, and what holds for them; of those left out, and why these are."""

    done: tuple[str, ...]
    left_out: tuple[str, ...] = ()
    why: str = ""
    unless: str = ""


def chores_now(job: Job, weather: Weather) -> Chores:
    """What of the chores of a time is done: nothing that wets before frost, nor racks on which nothing lies."""
    wet = [name for name in job.names if _WETS.search(name)]
    if frost := _frost(job.start, weather):
        return _without(job, wet, frost)._replace(unless=UNLESS_WET)
    return _without(job, [] if job.on_racks else [name for name in wet if _RACKS.search(name)], RACKS_EMPTY)


def _without(job: Job, left_out: Sequence[str], why: str) -> Chores:
    done = tuple(name for name in job.names if name not in left_out)
    return Chores(done, tuple(left_out), why if left_out else "")


def _frost(wetted: datetime, weather: Weather) -> str:
    """Why what is wetted at a moment would freeze while it is wet; empty where it does not.

    What is wetted in the morning is wet until midnight, what is wetted later until the next noon (our choice).
    """
    day, hour = wetted.date(), wetted.hour + wetted.minute / 60
    if _falls_to_frost(weather.day(day), hour, _MIDNIGHT):
        return FROST_TODAY
    tonight = hour >= _NOON and _falls_to_frost(weather.day(day + timedelta(days=1)), 0, _NOON)
    return FROST_TONIGHT if tonight else ""


def _falls_to_frost(air: DayWeather, from_hour: float, to_hour: float) -> bool:
    """Whether it freezes in some hours of a day, as far as a forecast or a typical year tells."""
    hours = np.array([from_hour, *range(int(from_hour) + 1, int(to_hour) + 1)], dtype=np.float64)
    return freezes(air) and bool(air_of_days([air], hours).min() <= FREEZING_C + _ROUNDING_C)


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
