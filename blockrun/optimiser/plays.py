"""Slow ways to play a yard forward, where no quick play comes to anything: by the foreman's rule, or sparing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from blockrun.optimiser.ahead import Ahead
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.roll import Roll
from blockrun.optimiser.slots import Slots
from blockrun.optimiser.state import State
from blockrun.optimiser.when import When

LATEST = 1000
"""Minutes after opening a mould may come free and still be counted on that day: longer than any day."""

_DELAY, _SLOTS_A_DAY = 60, 2
"""How counting ahead sees the days: each pour so many minutes later than could be, in so many slots."""

Play = Callable[[], "State | None"]


@dataclass(frozen=True)
class Plays:
    """Plays of one problem; each gives the yard at the end of a plan, or ``None``."""

    problem: Problem
    limits: Limits
    effort: Effort

    def foreman(self, wait: int, *, patient: bool = True, thrifty: bool = False) -> Play:
        """The foreman's rule, counting on moulds that come free within so many minutes of opening."""
        foreman = Foreman(self.problem, self.limits, wait)
        return Roll(
            self.problem,
            self.limits,
            lambda state: {state.day: foreman.day(state)},
            self.effort,
            foreman.worth,
            patient=patient,
            thrifty=thrifty,
        ).play

    def saving(self, share: int) -> Play:
        """Counting ahead over a share of the days for the least cement."""
        last = (len(self.problem.days) - 1) // share
        foreman = Foreman(self.problem, self.limits, LATEST)
        guide = Ahead(self.problem, self.limits, self._when(), foreman, self.effort, last)
        return Roll(self.problem, self.limits, guide, self.effort, foreman.worth, thrifty=True).play

    def _when(self) -> When:
        reach = self.limits.reach
        return When(self.problem, reach, Slots(self.problem, reach, _SLOTS_A_DAY), _DELAY)
