"""The days of a site as minutes: when it works, when what is poured is old enough, and when it freezes."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from blockrun.optimiser.problem import MINUTES_A_DAY, Chore, Day
from blockrun.planner.stopped import why_stopped

if TYPE_CHECKING:
    from blockrun.planner.clocks import Clock
    from blockrun.site import Site


def days_of(site: Site, horizon: int) -> list[Day]:
    """Working days of the first so many calendar days."""
    calendar = site.calendar
    working = (n for n in range(horizon) if calendar.is_working(calendar.start + timedelta(days=n)))
    return [day_of(site, number) for number in working]


def day_of(site: Site, number: int) -> Day:
    """The working day that is so many days after the first."""
    calendar, midnight = site.calendar, number * MINUTES_A_DAY
    on = calendar.start + timedelta(days=number)
    return Day(
        number=number,
        windows=tuple((midnight + start, midnight + end) for start, end in calendar.windows),
        # a day on which nothing may be poured has its last foam before it opens
        last_foam=midnight + (calendar.begins_min - 1 if why_stopped(site, on) else calendar.last_foam_min),
        people=site.crew.on(on),
        chores=tuple(
            Chore(midnight + at, midnight + at + chore.time_min, chore.people)
            for chore in site.chores
            for at in chore.at
        ),
    )


def days_from(days: Iterable[Day], now: int) -> Iterator[Day]:
    """What is left of some days from a minute on."""
    for day in days:
        windows = tuple((max(start, now), end) for start, end in day.windows if now < end)
        if windows:
            yield replace(day, windows=windows, chores=tuple(chore for chore in day.chores if now <= chore.start))


def windows_until(days: Iterable[Day], now: int) -> Iterator[tuple[int, int]]:
    """Working windows of some days before a minute."""
    for day in days:
        yield from ((start, min(end, now)) for start, end in day.windows if start < now)


def later_of(site: Site, horizon: int) -> Iterator[tuple[int, int]]:
    """Working windows after the last day, up to the first in which every block has left the rack."""
    calendar, end = site.calendar, horizon * MINUTES_A_DAY + site.curing.rack_for_min
    for number in itertools.count(horizon):
        if calendar.is_working(calendar.start + timedelta(days=number)):
            midnight = number * MINUTES_A_DAY
            yield from ((midnight + start, midnight + close) for start, close in calendar.windows)
            if midnight > end:
                return


def old_enough(clock: Clock, hours: float, horizon: int) -> npt.NDArray[np.int32]:
    """For each minute of a pour, shape ``(n_minutes,)``, the minute at which it has so many hours at 20 degC."""
    return np.asarray(clock.when(np.arange(horizon * MINUTES_A_DAY), hours)).astype(np.int32)


def ripe_of(clock: Clock, hours: float, horizon: int) -> npt.NDArray[np.int32]:
    """The same; -1 where that is past the horizon."""
    ripe = old_enough(clock, hours, horizon)
    return np.where(ripe < len(ripe), ripe, np.int32(-1))


def clear_until(site: Site, horizon: int) -> npt.NDArray[np.int32]:
    """The last day of the run without frost that each day is in, shape ``(horizon,)``; -1 in frost."""
    start, least = site.calendar.start, site.curing.least_air_c
    clear = np.full(horizon, -1, dtype=np.int32)
    last = -1
    for number in reversed(range(horizon)):
        if site.weather.day(start + timedelta(days=number)).min_c < least:
            last = -1
        else:
            last = number if last < 0 else last
            clear[number] = last
    return clear
