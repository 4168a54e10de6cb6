"""The best any plan can do, stage by stage, each with the stages before it held where the plan has them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.curve import Curve
from blockrun.optimiser.engine import Answer, Effort, Expression, run
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem, Supply
from blockrun.optimiser.score import Score
from blockrun.optimiser.state import State

_PROBE_WORK = 1.5
_LATE_WORK = 3.0
_BATCHES_WORK = 4.0
_CEMENT_WORK = 2.0


@dataclass(frozen=True)
class Bounds:
    """Bounds from the counts, which relax the minutes: valid for every real plan."""

    problem: Problem
    limits: Limits
    effort: Effort

    @cached_property
    def curve(self) -> Curve:
        """What arithmetic alone says."""
        return Curve(self.problem, self.limits)

    def late(self, best: Score) -> int:
        """Fewest block-days late of any plan, however long."""
        if self.curve.late >= best.late or self.effort.stop():
            return self.curve.late
        counts = self._counts(self._last(best), overflow=True)
        return max(self.curve.late, self._least(counts, block_days_late(counts), _LATE_WORK))

    def finish(self, best: Score) -> int:
        """Number of the earliest day of the last pour among plans no later than ``best``."""
        days = self.problem.days
        first, last = self.curve.finish, self._last(best)
        while first < last and not self.effort.stop():
            middle = (first + last) // 2
            counts = self._counts(middle)
            if best.late < _needed_days(self.problem):
                counts.model.add(block_days_late(counts) <= best.late)
            if run(counts.model, self.effort.of(_PROBE_WORK)).impossible:
                first = middle + 1
            else:
                last = middle
        return days[first].number

    def batches(self, best: Score) -> int:
        """Fewest batches of any plan as good as ``best`` on the stages before."""
        weighed = self.limits.weighing.fewest_batches
        if weighed >= best.batches or self.effort.stop():
            return weighed
        counts = self._counts(self._last(best))
        self._hold(counts, best)
        return max(weighed, self._least(counts, counts.n_batches(), _BATCHES_WORK))

    def cement(self, best: Score) -> int:
        """Least cement of any plan as good as ``best`` on the stages before."""
        weighed = self.limits.weighing.least_cement
        if weighed >= best.cement or self.effort.stop():
            return weighed
        counts = self._counts(self._last(best))
        self._hold(counts, best)
        counts.model.add(counts.n_batches() <= best.batches)
        return max(weighed, self._least(counts, counts.cement(), _CEMENT_WORK))

    @cached_property
    def stock_is_short(self) -> bool:
        """Whether cement or agent alone stands in the way: proved impossible with what comes, not without limit."""
        if self.effort.stop():
            return False
        plenty = Supply(((0, 1 << 60),))
        boundless = replace(self, problem=replace(self.problem, cement=plenty, agent=plenty))
        return self.impossible and boundless._probed().found

    @cached_property
    def impossible(self) -> bool:
        """Whether it is proved that no plan pours everything in the days of the problem."""
        if self.effort.stop():
            return False
        return self._probed().impossible

    def _probed(self) -> Answer:
        """Whether all can be poured in the days of the problem."""
        counts = self._counts(len(self.problem.days) - 1)
        return run(counts.model, self.effort.of(_PROBE_WORK))

    def _counts(self, last: int, *, overflow: bool = False) -> Counts:
        """All there is to do, poured by the day at position ``last``; without a delay, so that it bounds."""
        return Counts(self.problem, self.limits, self.limits.when, State(), last, overflow)

    def _last(self, best: Score) -> int:
        return self.problem.day_index[best.finish]

    def _hold(self, counts: Counts, best: Score) -> None:
        counts.model.add(block_days_late(counts) <= best.late)

    def _least(self, counts: Counts, aim: Expression, work: float) -> int:
        counts.model.minimize(aim)
        answer = run(counts.model, self.effort.of(work))
        return max(0, answer.bound)


def _needed_days(problem: Problem) -> int:
    """More block-days late than any plan has need to be told of."""
    return problem.horizon * sum(count for block in problem.formats for _, count in block.needs)
