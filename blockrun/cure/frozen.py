"""Hours under freezing that count in an age: the rules go on there, though ice sets nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import numpy.typing as npt

from blockrun.cure.age import AgeClock, Ints
from blockrun.cure.air import Floats
from blockrun.cure.hazards import FREEZING_C
from blockrun.cure.rates import AgeRule, rule_of
from blockrun.errors import OutOfRange

if TYPE_CHECKING:
    from blockrun.site import Site


class Frozen(NamedTuple):
    """Hours of the clock under freezing, and the hours at 20 degC that they count as."""

    hours: float
    count_h: float


class FrozenHours:
    """The hours under freezing between two minutes, as warm as the air.

    EN 1992-1-1 (B.10) is stated for 0 degC and over. Under it the rules are carried on, by which an hour at -5 degC
    still counts as 17 minutes; water in foamed concrete is ice by then, or nearly. Nothing is taken off an age for
    that: these hours are told, and the time that leaves them out, so that people can wait for it.
    """

    def __init__(self, site: Site) -> None:
        self._lasts, self._counts = (
            AgeClock(site.weather, site.calendar.start, rule=_under_freezing(rule))
            for rule in (_one, rule_of(site.curing))
        )
        self._thawed = AgeClock(site.weather, site.calendar.start, rule=_over_freezing(rule_of(site.curing)))

    def hours(self, from_min: Ints, to_min: Ints) -> Floats:
        """Hours of the clock under freezing in each of some stretches, given as for :meth:`most`."""
        return self._lasts.age_h(from_min, to_min)

    def any(self, from_min: int, to_min: int) -> bool:
        """Whether the air is under freezing at any minute between two."""
        return bool(self.hours(np.array([from_min]), np.array([to_min]))[0] > 0)

    def thawed(self, from_min: int, hours: float) -> int | None:
        """The minute by which an age is reached by hours that do not freeze; None where ten years do not bring it."""
        try:
            return self._thawed.when(from_min, hours)
        except OutOfRange:
            return None

    def most(self, from_min: Ints, to_min: Ints) -> Frozen:
        """The most hours under freezing in any of some stretches.

        Parameters
        ----------
        from_min, to_min : shape (n,), n > 0, minutes since the first midnight of the calendar.
        """
        lasts, counts = (clock.age_h(from_min, to_min) for clock in (self._lasts, self._counts))
        worst = int(np.argmax(counts))
        return Frozen(float(lasts[worst]), float(counts[worst]))


def _one(celsius: npt.ArrayLike) -> Floats:
    return np.ones_like(celsius, dtype=np.float64)


def _under_freezing(rule: AgeRule) -> AgeRule:
    return lambda celsius: np.where(np.asarray(celsius) < FREEZING_C, rule(celsius), 0.0)


def _over_freezing(rule: AgeRule) -> AgeRule:
    return lambda celsius: np.where(np.asarray(celsius) < FREEZING_C, 0.0, rule(celsius))
