"""When blocks are old enough in the air as it turns out: some days as forecast, some colder."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from blockrun.cure import AgeClock
from blockrun.cure.age import SLACK_H
from blockrun.cure.warm import WarmClock
from blockrun.site.weather import DayWeather, SeenWeather
from blockrun.units import MINUTES_A_DAY

if TYPE_CHECKING:
    from datetime import date

    from blockrun.planner.clocks import Clocks
    from blockrun.site import MouldKind, Site

Hours = npt.NDArray[np.float64]
Minutes = npt.NDArray[np.int32]

USUAL: Final = 0
COLDER: Final = 1


@dataclass(frozen=True)
class Colder(SeenWeather):
    """The same weather, each day colder by as much, day and night."""

    by_k: float = 0.0

    def day(self, day: date) -> DayWeather:
        """The air of a day, colder."""
        air = super().day(day)
        sky = air.sky._replace(air_c=tuple(value - self.by_k for value in air.sky.air_c))
        return DayWeather(air.min_c - self.by_k, air.max_c - self.by_k, air.forecast, air.typical, sky)


def colder_site(site: Site, by_k: float) -> Site:
    """The same site in colder weather."""
    weather = {each.name: getattr(site.weather, each.name) for each in fields(site.weather)}
    return site.model_copy(update={"weather": Colder(**weather, by_k=by_k)})


@dataclass(frozen=True)
class Ripening:
    """Ages that blocks gain, of each day as forecast and colder.

    Attributes
    ----------
    within : shape (2, n_days, 1440): hours at 20 degC from midnight to each minute of a day; usual, then colder.
    whole : shape (2, n_days): those of the whole day.
    warm : by kind of mould and hours, where the heat of blocks is modelled: shape (2, n_minutes), the minute at which
        a pour that ends at a minute is as old, if all days are usual, or all colder.
    strip_h : hours at 20 degC until the strip.
    lay_h : hours until laying, or None; ``lay_min`` minutes of the calendar until it.
    """

    within: Hours = field(repr=False)
    whole: Hours = field(repr=False)
    warm: Mapping[tuple[int, float], Minutes] = field(repr=False)
    strip_h: float
    lay_h: float | None
    lay_min: int


def ages_within(site: Site, n_days: int) -> tuple[Hours, Hours]:
    """Hours at 20 degC of each day: from its midnight to each minute, shape (n_days, 1440), and in all."""
    clock = AgeClock.of(site, n_days)
    age_h = clock.age_h(0, np.arange(n_days * MINUTES_A_DAY + 1))
    first = age_h[:-1:MINUTES_A_DAY]
    return age_h[:-1].reshape(n_days, MINUTES_A_DAY) - first[:, np.newaxis], np.diff(age_h[::MINUTES_A_DAY])


def warm_minutes(usual: Clocks, colder: Clocks, kind: MouldKind, hours: float, n_days: int) -> Minutes:
    """When pours in a kind of mould are of an age, with their own heat: shape (2, n_minutes)."""
    pours, clocks = np.arange(n_days * MINUTES_A_DAY), (usual.of(kind), colder.of(kind))
    assert all(isinstance(clock, WarmClock) for clock in clocks)
    return np.stack([clock.when(pours, hours) for clock in clocks]).astype(np.int32)


class Ripe:
    """When pours of one run are ripe.

    Parameters
    ----------
    ripening : ages by day.
    cold : for each day, whether it is colder than forecast.
    """

    def __init__(self, ripening: Ripening, cold: Sequence[bool]) -> None:
        self._given = ripening
        self._cold = [COLDER if each else USUAL for each in cold]
        chosen = ripening.whole[self._cold, np.arange(len(cold))]
        self._until: list[float] = [0.0, *np.cumsum(chosen).tolist()]
        self._known: dict[tuple[int, float], int] = {}
        self._last_cold = max((day for day, each in enumerate(cold) if each), default=-1)

    def strip(self, kind: int, poured: int) -> int:
        """Minute from which a mould may be stripped, its last pour over at a minute."""
        return self.when(kind, poured, self._given.strip_h)

    def when(self, kind: int, poured: int, hours: float) -> int:
        """Minute from which what stands in a kind of mould is of an age."""
        warm = self._given.warm.get((kind, hours))
        if warm is None:
            return self.in_air(poured, hours)
        # a snap on any of the days it stands there counts for all of them: later, never too young
        day, until = poured // MINUTES_A_DAY, int(warm[COLDER, poured])
        colder = day <= self._last_cold and any(self._cold[day : until // MINUTES_A_DAY + 1])
        return until if colder else int(warm[USUAL, poured])

    def in_air(self, poured: int, hours: float) -> int:
        """Minute from which what is as warm as the air is of an age; past the last day, its end."""
        asked = (poured, hours)
        if asked not in self._known:
            self._known[asked] = self._found(poured, hours)
        return self._known[asked]

    def _found(self, poured: int, hours: float) -> int:
        until, within, cold = self._until, self._given.within, self._cold
        day, minute = divmod(poured, MINUTES_A_DAY)
        if day >= len(cold):
            return len(cold) * MINUTES_A_DAY
        asked = until[day] + within.item(cold[day], day, minute) + hours - SLACK_H
        reached = bisect_right(until, asked) - 1
        if reached >= len(cold):
            return len(cold) * MINUTES_A_DAY
        found = within[cold[reached], reached].searchsorted(asked - until[reached], side="left")
        return reached * MINUTES_A_DAY + int(found)

    def lay(self, poured: int) -> int:
        """Minute from which a block is old enough to be laid."""
        given = self._given
        return poured + given.lay_min if given.lay_h is None else self.in_air(poured, given.lay_h)
