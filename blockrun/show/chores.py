"""Chores as weather and racks leave them: before frost nothing is wetted."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.show.frost import MIDNIGHT, freezes_between

if TYPE_CHECKING:
    from blockrun.show.day import Job
    from blockrun.site import Weather

FROST_TODAY: Final = "NOT TODAY: FROST"
FROST_TONIGHT: Final = "NOT TODAY: FROST TONIGHT"
RACKS_EMPTY: Final = "NOT NOW: RACKS EMPTY"
UNLESS_WET: Final = "frost: not if it wets blocks"

_WETS: Final = re.compile(r"\b(wet|water|damp|moist|spray|sprinkl|hose|soak|mist|douse|rinse)", re.IGNORECASE)
"""Words a chore that wets blocks is named by (our choice); of another name nobody can tell."""


_RACKS: Final = re.compile(r"\brack", re.IGNORECASE)
_NOON: Final = 12


class Chores(NamedTuple):
    """Names of chores that are done at a time, and what holds for them; of those left out, and why these are."""

    done: tuple[str, ...]
    left_out: tuple[str, ...] = ()
    why: str = ""
    unless: str = ""


def chores_now(job: Job, weather: Weather) -> Chores:
    """What of the chores of a time is done: nothing that wets before frost, nor racks on which nothing lies."""
    wet = [name for name in job.names if wets(name)]
    if frost := _frost(job.start, weather):
        return _without(job, wet, frost)._replace(unless=UNLESS_WET)
    return _without(job, [] if job.on_racks else [name for name in wet if _RACKS.search(name)], RACKS_EMPTY)


def wets(name: str) -> bool:
    """Whether a chore of a name wets blocks."""
    return bool(_WETS.search(name))


def _without(job: Job, left_out: Sequence[str], why: str) -> Chores:
    done = tuple(name for name in job.names if name not in left_out)
    return Chores(done, tuple(left_out), why if left_out else "")


def _frost(wetted: datetime, weather: Weather) -> str:
    """Why what is wetted at a moment would freeze while it is wet; empty where it does not.

    What is wetted in the morning is wet until midnight, what is wetted later until the next noon (our choice).
    """
    day, hour = wetted.date(), wetted.hour + wetted.minute / 60
    if freezes_between(weather.day(day), hour, MIDNIGHT):
        return FROST_TODAY
    tonight = hour >= _NOON and freezes_between(weather.day(day + timedelta(days=1)), 0, _NOON)
    return FROST_TONIGHT if tonight else ""
