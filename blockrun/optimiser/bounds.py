"""The best any plan can do, stage by stage, each with the stages before it held where the plan has them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from ortools.sat.python import cp_model

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.curve import Curve
from blockrun.optimiser.engine import Answer, Effort, Expression, run
from blockrun.optimiser.first_lap import FirstLap
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.linear import ROUNDING, Linear, whole
from blockrun.optimiser.problem import Problem, Supply
from blockrun.optimiser.score import Score
from blockrun.optimiser.slots import Slots
from blockrun.optimiser.state import State
from blockrun.optimiser.when import When

_PROBE_WORK = 1.5
_SLOTS_IN_ALL = 250
_SLOTS_A_DAY = 6
_MANY_DAYS = 90


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

    @cached_property
    def first_lap(self) -> FirstLap:
        """What the rack and the first lap say."""
        return FirstLap(self.problem, self.limits)

    @property
    def _begun(self) -> State:
        return self.limits.begun

    @property
    def _all_is_poured(self) -> bool:
        """Whether all that is left to do is stripped, and the last pour, batches and cement are what they are."""
        return bool(self._begun.batches) and not any(self.curve.left)

    def late(self, best: Score) -> int:
        """Fewest block-days late of any plan, however long."""
        if self.curve.late >= best.late or self._all_is_poured or self.effort.stop():
            return self.curve.late
        return max(self.curve.late, self._relaxed(best, overflow=True, dated=True).late())

    def finish(self, best: Score) -> int:
        """Number of the earliest day of the last pour among plans no later than ``best``."""
        if self._all_is_poured:
            return best.finish
        first, last = self.curve.finish, self.problem.day_index[best.finish]
        if first < last and not self.effort.stop():
            first = self._searched(best, first, last)
        while first < last and not self.effort.stop() and self.first_lap.misses(first):
            first += 1
        return self.problem.days[first].number

    def _searched(self, best: Score, first: int, last: int) -> int:
        """Position of the first day, from one to another, by which all may be poured."""
        relaxed, at_best = self._relaxed(best, overflow=True), last
        probe = last - 1
        while first < last and not self.effort.stop():
            if relaxed.misses(probe, best):
                first = probe + 1
            else:
                last = probe
            # a good plan is a day from its bound or two, and a probe takes long where days are many
            probe = max(last - 1, first) if last == at_best - 1 else (first + last) // 2
        return first

    def batches(self, best: Score) -> int:
        """Fewest batches of any plan as good as ``best`` on the stages before."""
        weighed = self.limits.weighing.fewest_batches
        if weighed >= best.batches or self.effort.stop():
            return weighed
        return max(weighed, self._relaxed(best).batches(best))

    def cement(self, best: Score) -> int:
        """Least cement of any plan as good as ``best`` on the stages before."""
        weighed = self.limits.weighing.least_cement
        if weighed >= best.cement or self.effort.stop():
            return weighed
        return max(weighed, self._relaxed(best).cement(best))

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
        last = len(self.problem.days) - 1
        counts = Counts(self.problem, self.limits, self.limits.when, self._begun, last)
        return run(counts.model, self.effort.of(_PROBE_WORK))

    @cached_property
    def _kept(self) -> dict[tuple[int, bool, bool], Relaxed]:
        return {}

    def _relaxed(self, best: Score, *, overflow: bool = False, dated: bool = False) -> Relaxed:
        """The counts up to the last day of a plan, built once; those of few days are ``dated`` in any case."""
        last = self.problem.day_index[best.finish]
        # need dates hardly tell on the last pour, batches and cement, and half the rows of many days are theirs
        key = last, overflow, dated or last < _MANY_DAYS
        if key not in self._kept:
            a_day = max(1, min(_SLOTS_A_DAY, _SLOTS_IN_ALL // (last + 1)))
            slots = Slots(self.problem, self.limits.reach, a_day)
            when = When(self.problem, self.limits.reach, slots)
            # without a delay, so that it bounds
            counts = Counts(self.problem, self.limits, when, self._begun, last, overflow, lean=True)
            self._kept[key] = Relaxed(counts, dated=key[-1])
        return self._kept[key]


class Relaxed:
    """Counts as rows, with the sums that are bounded and held; blocks may be left over where they overflow.

    Where they are not ``dated``, need dates are left out.
    """

    def __init__(self, counts: Counts, *, dated: bool = True) -> None:
        self.counts, self.dated = counts, dated
        self._whole_order()
        sums = {"batches": counts.n_batches(), "cement": counts.cement()}
        left = sum(counts.later.values())
        sums |= self._late(left) if dated else {"missing": left}
        self.linear = Linear(counts.model, sums)

    def _late(self, left: Expression) -> dict[str, Expression]:
        late = block_days_late(self.counts)
        over = self.counts.model.new_int_var(0, _needed_days(self.counts.problem), "later than held")
        return {"late": late, "held late": late - over, "missing": left + over}

    def _whole_order(self) -> None:
        """All days together make the batches the order takes at the least; what is left over, one a block."""
        counts, weighing = self.counts, self.counts.limits.weighing
        makers = counts.limits.mixing.makers
        for mix in weighing.ways:
            of_mix = {index: maker for index, maker in enumerate(makers) if maker.mix == mix}
            blocks = (n for block, n in counts.later.items() if counts.problem.formats[block].mix == mix)
            left, most = sum(blocks, start=0), max((maker.most_cement for maker in of_mix.values()), default=0)
            made = [of[index] for of in counts.batches.values() for index in of_mix if index in of]
            cement = [of[index] for of in counts.cement_in.values() for index in of_mix if index in of]
            counts.model.add(sum(made) + left >= weighing.fewest_of(mix))
            counts.model.add(sum(cement) + most * left >= weighing.least_of(mix))

    def late(self) -> int:
        """Fewest block-days late, however much is left over."""
        return self._least("late")

    def misses(self, last: int, best: Score) -> bool:
        """Whether something is left over, or later than in a plan, when nothing is poured after a day."""
        held = {"held late": best.late} if self.dated else {}
        missing = self.linear.least("missing", held, self._poured_after(last))
        return missing is not None and missing > ROUNDING

    def batches(self, best: Score) -> int:
        """Fewest batches of plans no later."""
        return self._least("batches", self._as_late(best))

    def cement(self, best: Score) -> int:
        """Least cement of plans no later and of no more batches."""
        return self._least("cement", {**self._as_late(best), "batches": best.batches})

    def _as_late(self, best: Score) -> dict[str, int]:
        return {"late": best.late} if self.dated else {}

    def _least(self, name: str, held: dict[str, int] | None = None) -> int:
        bound = self.linear.least(name, held)
        return 0 if bound is None else max(0, whole(bound))

    def _poured_after(self, last: int) -> Iterator[cp_model.IntVar]:
        counts = self.counts
        for slot in counts.pour_slots:
            if counts.when.slots.all[slot].day > last:
                yield from (of.of[slot] for of in counts.turns.values() if slot in of.of)
                yield from counts.filled[slot].values()
                yield from counts.batches[slot].values()
                yield from counts.cement_in[slot].values()


def _needed_days(problem: Problem) -> int:
    """More block-days late than any plan has need to be told of."""
    return problem.horizon * sum(count for block in problem.formats for _, count in block.needs)
