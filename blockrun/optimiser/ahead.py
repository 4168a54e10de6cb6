"""Counting ahead where cement or agent is scarce: what the coming days had better pour so that it lasts."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.day_counts import DayCounts, read
from blockrun.optimiser.engine import Effort, hint, run
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State
from blockrun.optimiser.when import When

_FIRST_WORK = 0.3
_BETTER_WORK = 0.6
_EARLY_WORK = 0.15


@dataclass
class Ahead:
    """Counts to the day at position ``last`` for the least cement; the foreman decides where counting finds no way."""

    problem: Problem
    limits: Limits
    when: When
    foreman: Foreman
    effort: Effort
    last: int

    def __call__(self, state: State) -> dict[int, DayCounts]:
        """Counts of the coming days, or of this day alone."""
        counts = None if self.effort.stop() else self._counted(state)
        return counts or {state.day: self.foreman.day(state)}

    def _counted(self, state: State) -> dict[int, DayCounts] | None:
        counts = Counts(self.problem, self.limits, self.when, state, max(self.last, state.day))
        cement = counts.cement()
        counts.model.minimize(cement)
        best = run(counts.model, self.effort.of(_FIRST_WORK))
        if best.impossible:
            return None
        if best.found:
            hint(counts.model, best)
        # branching on the relaxation finds far less than the usual search does
        better = run(counts.model, self.effort.of(_BETTER_WORK), search_branching=cp_model.LP_SEARCH)
        best = better if better.found else best
        if not best.found:
            return None
        counts.model.add(cement <= best.value(cement))
        counts.model.minimize(counts.early())
        hint(counts.model, best)
        early = run(counts.model, self.effort.of(_EARLY_WORK))
        return read(counts, (early if early.found else best).value)
