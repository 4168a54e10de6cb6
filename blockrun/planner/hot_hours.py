"""The hours in which heat leaves no time to pour: no batch is planned that would set before it is in the moulds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from blockrun.cure.pour_life import OUR_CHOICE, ever_poured_in_time, pour_lives
from blockrun.files.day_names import clock, day_name
from blockrun.optimiser.crew import batch_starts
from blockrun.optimiser.problem import MINUTES_A_DAY, Day, Load, Problem
from blockrun.planner.hot_pours import TO_POUR_IN_TIME
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.site import Site


def with_hardy(site: Site, loads: Sequence[Load]) -> Iterator[Load]:
    """The loads; of a mix of which no batch is ever in time they are poured all the same, lest there be no plan."""
    mixes = mixes_in_time(site, ((load.mix, load.slurry, load.from_foam, load.wash) for load in loads))
    for load in loads:
        yield load if load.mix in mixes else replace(load, hardy=True)


def mixes_in_time(site: Site, loads: Iterable[tuple[int, int, int, int]]) -> set[int]:
    """Mixes of which some batch is poured in time at some minute of a year.

    Parameters
    ----------
    loads : of each its mix, and its minutes before the foam, from there to the last cavity filled, and after that.
    """
    return {mix for mix, *minutes in set(loads) if ever_poured_in_time(site, *minutes)}


def with_hot_hours(site: Site, days: Iterable[Day], loads: Iterable[Load]) -> Iterator[Day]:
    """The days with the stretches in which some of these loads cannot be poured in time; days without one as they are.

    What keeps longer than a load takes keeps long enough: stretches differ only where that makes a difference to one.
    """
    takes = np.array(sorted({load.from_foam for load in loads if not load.hardy}))
    for day in days:
        lives = pour_lives(site, site.calendar.start + timedelta(days=day.number)) if takes.size else None
        yield day if lives is None else replace(day, hot=tuple(_hot(day, lives, takes)))


def _hot(day: Day, lives: np.ndarray, takes: np.ndarray) -> Iterator[tuple[int, int, int]]:
    """Stretches of a day, each with the longest that a load may take there; 0 where none may."""
    n_in_time = np.searchsorted(takes, lives, side="right")
    keeps = np.concatenate(([0], takes))[n_in_time]
    midnight = day.number * MINUTES_A_DAY
    edges = [0, *(np.flatnonzero(np.diff(keeps)) + 1), MINUTES_A_DAY]
    for first, end in pairwise(edges):
        first, end = max(int(first), day.opens - midnight), min(int(end), day.closes - midnight)
        if first < end and keeps[first] < takes[-1]:
            yield midnight + first, midnight + end, int(keeps[first])


def hot_hours_said(site: Site, problem: Problem, last_pour: date) -> Iterator[str]:
    """On how many days up to the last pour heat keeps batches from being made, and in which hours of the first."""
    last = (last_pour - site.calendar.start).days
    hot = [day for day in problem.days if day.hot and day.number <= last]
    if not hot:
        return
    closed = sum(not any(batch_starts(day, load) for load in problem.loads) for day in hot)
    on = day_name(site.calendar.start + timedelta(days=hot[0].number))
    none, small = (listed([*_hours(hot[0], small=small)]) for small in (False, True))
    said = [f"no foam goes in {none}"] * bool(none) + [f"foam of small batches alone goes in {small}"] * bool(small)
    yield (
        f"HEAT: on {counted(len(hot), 'working day')} up to the last pour a mix keeps too short in the hottest hours"
        f"{f', on {closed} at every hour' if closed else ''} ({OUR_CHOICE}), and no batch is planned that would set "
        f"before it is poured: on {on} {listed(said)}. {TO_POUR_IN_TIME}."
    )


def _hours(day: Day, *, small: bool) -> Iterator[str]:
    """``from 10:55 to 16:10``: when no foam goes in, or that of small batches alone; what follows on is one."""
    joined: list[tuple[int, int]] = []
    for first, end, keeps in day.hot:
        if bool(keeps) is small:
            if joined and joined[-1][1] == first:
                first = joined.pop()[0]
            joined.append((first, end))
    for first, end in joined:
        yield f"from {clock(first % MINUTES_A_DAY)} to {clock(end % MINUTES_A_DAY)}"
