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
from blockrun.optimiser.problem import MINUTES_A_DAY, Day, Load
from blockrun.planner.hot_pours import TO_POUR_IN_TIME
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.planner.brief import Brief
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
    """The days with the stretches in which heat alone keeps some of these loads from being made, if any.

    What keeps longer than a load takes keeps long enough: stretches differ only where that makes a difference to one.
    """
    soft = {(load.crew, load.slurry, load.from_foam, load.wash): load for load in loads if not load.hardy}
    takes = np.array(sorted({load.from_foam for load in soft.values()}))
    for day in days:
        lives = pour_lives(site, site.calendar.start + timedelta(days=day.number)) if takes.size else None
        yield day if lives is None else felt(replace(day, hot=tuple(_hot(day, lives, takes))), soft.values())


def _hot(day: Day, lives: np.ndarray, takes: np.ndarray) -> Iterator[tuple[int, int, int]]:
    """Stretches of a day, each with the longest that a load may take there; 0 where none may."""
    n_in_time = np.searchsorted(takes, lives, side="right")
    keeps = np.concatenate(([0], takes))[n_in_time]
    midnight = day.number * MINUTES_A_DAY
    edges = [0, *(np.flatnonzero(np.diff(keeps)) + 1), MINUTES_A_DAY]
    for first, end in pairwise(edges):
        if keeps[first] < takes[-1]:
            yield midnight + int(first), midnight + int(end), int(keeps[first])


def felt(day: Day, loads: Iterable[Load]) -> Day:
    """A day with those of its stretches alone in which some load could be made but for the heat, while it is open.

    Where rain, a last foam or want of people stops a batch anyway, heat is not what keeps it from being made.
    """
    cool = replace(day, hot=())
    starts = [(load, batch_starts(cool, load)) for load in loads if not load.hardy] if day.hot else []
    return replace(
        day,
        hot=tuple(
            (max(first, day.opens), min(end, day.closes), keeps)
            for first, end, keeps in day.hot
            if any(
                keeps < load.from_foam and start + load.slurry < end and first <= last + load.slurry
                for load, when in starts
                for start, last in when
            )
        ),
    )


def hot_hours_said(asked: Brief, last_pour: date) -> Iterator[str]:
    """On how many days up to the last pour heat keeps batches from being made, and in which hours of the first."""
    start, problem = asked.site.calendar.start, asked.problem
    hot = [day for day in problem.days if day.hot and day.number <= (last_pour - start).days]
    if not hot:
        return
    soft = [load for load in problem.loads if not load.hardy]
    shut = sum(not any(batch_starts(day, load) for load in soft) for day in hot)
    whens = (("in the hottest hours", len(hot) - shut), ("at every hour in which a batch could be made", shut))
    (when, number), *others = ((when, number) for when, number in whens if number)
    of = "" if len(soft) == len(problem.loads) else f" of {' or '.join(_mixes(asked))}"
    yield (
        f"HEAT: on {counted(number, 'working day')} up to the last pour a mix keeps too short {when}"
        f"{''.join(f', on {number} more {when}' for when, number in others)} ({OUR_CHOICE}), and no batch{of} is "
        f"planned that would set before it is poured: on {day_name(start + timedelta(days=hot[0].number))} "
        f"{listed([*_hours(hot[0], of)])}. {TO_POUR_IN_TIME}."
    )


def _mixes(asked: Brief) -> list[str]:
    """Those that heat keeps from being made."""
    loads = zip(asked.problem.loads, asked.loads, strict=True)
    return list(dict.fromkeys(mix for load, (_, mix, _) in loads if not load.hardy))


def _hours(day: Day, of: str) -> Iterator[str]:
    """When no foam of some mixes goes in, and when only that of quick batches; what follows on is one."""
    joined: list[tuple[int, int, list[int]]] = []
    for first, end, minutes in day.hot:
        if joined and joined[-1][1] == first and bool(joined[-1][2][0]) is bool(minutes):
            since, _, before = joined.pop()
            joined.append((since, end, [*before, minutes]))
        else:
            joined.append((first, end, [minutes]))
    said = [(f"from {clock(a % MINUTES_A_DAY)} to {clock(b % MINUTES_A_DAY)}", keeps) for a, b, keeps in joined]
    if none := [when for when, keeps in said if not keeps[0]]:
        yield f"no foam{of} goes in {listed(none)}"
    for when, keeps in said:
        if keeps[0]:
            within = " to ".join(f"{minutes}" for minutes in sorted({min(keeps), max(keeps)}))
            yield f"foam{of} goes in only for batches poured within {within} min {when}"
