"""The best any plan can do, stage by stage, each with the stages before it held where the plan has them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.engine import Answer, Effort, Expression, run
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

    def late(self, best: Score) -> int:
        """Fewest block-days late of any plan, however long."""
        if best.late == 0:
            return 0
        counts = self._counts(best.finish, overflow=True)
        return max(0, self._least(counts, counts.late(), _LATE_WORK))

    def finish(self, best: Score) -> int:
        """Number of the earliest day of the last pour among plans no later than ``best``."""
        days = self.problem.days
        first, last = 0, self.problem.day_index[best.finish]
        while first < last and not self.effort.stop():
            middle = (first + last) // 2
            counts = self._counts(days[middle].number)
            if best.late < _needed_days(self.problem):
                counts.model.add(counts.late() <= best.late)
            if run(counts.model, self.effort.of(_PROBE_WORK)).impossible:
                first = middle + 1
            else:
                last = middle
        return days[first].number

    def batches(self, best: Score) -> int:
        """Fewest batches of any plan as good as ``best`` on the stages before."""
        weighed = self.fewest_by_weight()
        if weighed >= best.batches or self.effort.stop():
            return min(weighed, best.batches)
        counts = self._counts(best.finish)
        self._hold(counts, best)
        return min(best.batches, max(weighed, self._least(counts, counts.n_batches(), _BATCHES_WORK)))

    def fewest_by_weight(self) -> int:
        """Batches the whole order takes, whatever the days: by each way of weighing its blocks."""
        total = 0
        for mix, weightings in self.limits.weightings.items():
            demand = [self.problem.formats[block].demand for block in self.limits.formats_of(mix)]
            most = 0
            for weights in weightings:
                held = max(self.limits.held(mix, weights).values(), default=0)
                weight = sum(w * n for w, n in zip(weights, demand, strict=True))
                most = max(most, -(-weight // held) if held else 0)
            total += most
        return total

    def least_by_volume(self) -> int:
        """Cement the whole order takes, whatever the days: each block at the best share of a batch's room."""
        total = 0.0
        for mix in self.problem.mixes:
            loads = [load for load in self.problem.loads if load.mix == mix]
            volume = sum(b.demand * b.volume for b in self.problem.formats if b.mix == mix)
            total += volume * min(load.cement / load.room for load in loads)
        # and so many batches at the least, none smaller than the smallest
        smallest = min(load.cement for load in self.problem.loads)
        return max(math.ceil(total - 1e-6), self.fewest_by_weight() * smallest)

    def cement(self, best: Score) -> int:
        """Least cement of any plan as good as ``best`` on the stages before."""
        by_volume = self.least_by_volume()
        if by_volume >= best.cement or self.effort.stop():
            return min(by_volume, best.cement)
        counts = self._counts(best.finish)
        self._hold(counts, best)
        counts.model.add(counts.n_batches() <= best.batches)
        return min(best.cement, max(by_volume, self._least(counts, counts.cement(), _CEMENT_WORK)))

    def stock_is_short(self) -> bool:
        """Whether cement or agent alone stands in the way: proved impossible with what comes, not without limit."""
        plenty = Supply(((0, 1 << 60),))
        last = len(self.problem.days) - 1
        boundless = replace(self.problem, cement=plenty, agent=plenty)
        short = run(Counts(self.problem, self.limits, State(), last).model, self.effort.of(_PROBE_WORK)).impossible
        return short and run(Counts(boundless, self.limits, State(), last).model, self.effort.of(_PROBE_WORK)).found

    def _counts(self, finish: int, *, overflow: bool = False) -> Counts:
        return Counts(self.problem, self.limits, State(), self.problem.day_index[finish], overflow)

    def _hold(self, counts: Counts, best: Score) -> None:
        counts.model.add(counts.late() <= best.late)

    def _least(self, counts: Counts, aim: Expression, work: float) -> int:
        counts.model.minimize(aim)
        answer: Answer = run(counts.model, self.effort.of(work))
        return max(0, answer.bound)


def _needed_days(problem: Problem) -> int:
    """More block-days late than any plan has need to be told of."""
    return problem.horizon * sum(count for block in problem.formats for _, count in block.needs)
