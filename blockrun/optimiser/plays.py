"""Ways to play a yard forward: by the foreman's rule, counting ahead, or sparing what is scarce."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

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

_NEVER_TOO_LATE = 1 << 40

Play = Callable[[], "State | None"]


@dataclass(frozen=True)
class Look:
    """How to count ahead: every pour so many minutes later than could be, and in how many slots a day."""

    delay: int
    slots_a_day: int


SAFE = Look(60, 2)


@dataclass(frozen=True)
class Plays:
    """Plays of one problem; each gives the yard at the end of a plan, or ``None``."""

    problem: Problem
    limits: Limits
    effort: Effort

    def foreman(self, wait: int, *, patient: bool = True, thrifty: bool = False, mood: int | None = None) -> Play:
        """The foreman's rule, counting on moulds that come free within so many minutes of opening.

        Each ``mood``, a number, has him see things a little differently.
        """
        dice = None if mood is None else Random(self.effort.seed * 1000 + mood)
        foreman = Foreman(self.problem, self.limits, wait, dice)
        return Roll(
            self.problem,
            self.limits,
            lambda state: {state.day: foreman.day(state)},
            self.effort,
            foreman.worth,
            patient=patient,
            thrifty=thrifty,
        ).play

    def ahead(self, look: Look, last: int, late: int, *, hurry: bool) -> Play:
        """Counting ahead to a last day and so many block-days late; in a ``hurry``, to be less late, however long."""
        foreman = Foreman(self.problem, self.limits, LATEST)
        guide = Ahead(self.problem, self.limits, self._when(look), foreman, self.effort, last, late, hurry)
        latest = last if not hurry else len(self.problem.days)
        return Roll(
            self.problem, self.limits, guide, self.effort, foreman.worth, last_day=latest, fallback=foreman.day
        ).play

    def saving(self, share: int) -> Play:
        """Counting ahead over a share of the days for the least cement."""
        last = (len(self.problem.days) - 1) // share
        foreman = Foreman(self.problem, self.limits, LATEST)
        guide = Ahead(
            self.problem, self.limits, self._when(SAFE), foreman, self.effort, last, _NEVER_TOO_LATE, thrifty=True
        )
        return Roll(self.problem, self.limits, guide, self.effort, foreman.worth, thrifty=True).play

    def _when(self, look: Look) -> When:
        reach = self.limits.reach
        return When(self.problem, reach, Slots(self.problem, reach, look.slots_a_day), look.delay)
