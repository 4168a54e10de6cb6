"""Looking ahead: what the coming days had better pour, by counting from where the yard stands."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.day_counts import DayCounts, read
from blockrun.optimiser.engine import Answer, Effort, Expression, hint, run
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State
from blockrun.optimiser.when import When

_FIRST_WORK = 0.3
_BETTER_WORK = 0.6
_EARLY_WORK = 0.15


@dataclass
class Ahead:
    """Counts to the day at position ``last``; the foreman decides where counting finds no way.

    ``late`` is the lateness a plan may have. With ``hurry`` fewest block-days late come before
    fewest batches; ``thrifty``, least cement stands for them.
    """

    problem: Problem
    limits: Limits
    when: When
    foreman: Foreman
    effort: Effort
    last: int
    late: int
    hurry: bool = False
    thrifty: bool = False

    def __call__(self, state: State) -> dict[int, DayCounts]:
        """Counts of the coming days, or of this day alone."""
        if self.effort.stop():
            return {state.day: self.foreman.day(state)}
        last = max(self.last, state.day)
        counts = Counts(self.problem, self.limits, self.when, state, last)
        late = block_days_late(counts)
        answer = self._on_time(counts, late) if self.hurry else self._held(counts, late)
        if answer is None:
            return {state.day: self.foreman.day(state)}
        counts.model.minimize(counts.early())
        hint(counts.model, answer)
        better = run(counts.model, self.effort.of(_EARLY_WORK))
        return read(counts, (better if better.found else answer).value)

    def _on_time(self, counts: Counts, late: Expression) -> Answer | None:
        counts.model.minimize(late)
        answer = run(counts.model, self.effort.of(_FIRST_WORK))
        if not answer.found:
            return None
        counts.model.add(late <= answer.objective)
        return self._fewest(counts, answer)

    def _held(self, counts: Counts, late: Expression) -> Answer | None:
        counts.model.add(late <= self.late)
        counts.model.minimize(self._aim(counts))
        answer = run(counts.model, self.effort.of(_FIRST_WORK))
        return None if answer.impossible else self._fewest(counts, answer)

    def _aim(self, counts: Counts) -> Expression:
        return counts.cement() if self.thrifty else counts.n_batches()

    def _fewest(self, counts: Counts, answer: Answer) -> Answer | None:
        """Few batches by branching on the relaxation, which finds far fewer than the usual search does."""
        number = self._aim(counts)
        counts.model.minimize(number)
        if answer.found:
            hint(counts.model, answer)
        better = run(counts.model, self.effort.of(_BETTER_WORK), search_branching=cp_model.LP_SEARCH)
        best = better if better.found else answer
        if not best.found:
            return None
        counts.model.add(number <= best.value(number))
        return self._least_cement(counts, best) if self.problem.slabs else best

    def _least_cement(self, counts: Counts, best: Answer) -> Answer:
        """Slabs and single blocks may take as many batches, and not as much mix."""
        counts.model.minimize(counts.cement())
        hint(counts.model, best)
        better = run(counts.model, self.effort.of(_FIRST_WORK))
        return better if better.found else best
