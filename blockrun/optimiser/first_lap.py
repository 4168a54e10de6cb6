"""The last pour by what a rack lets through: a bound by the first lap, in slots so short that its minutes tell.

A lap is the time a block stays on the rack. In no lap is more stripped than the rack has places, so what is stripped by
a minute of the last day is no more than what was stripped by that minute of the first lap, and a rack full for each lap
since. What is poured by the end of the last day was stripped by the last minute at which a mould can be cleaned and
filled again that day, or it is in a mould by then. The first lap is short enough for counts by the quarter of an hour.
"""

from __future__ import annotations

from functools import cache

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.linear import Linear, whole
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.reach import Reach
from blockrun.optimiser.slots import Slots
from blockrun.optimiser.when import When

_SLOT, _MOST_SLOTS = 15, 40
"""Minutes of a slot, where a day has no more of them than that: counts take as long as the square of their number."""
_MOST_DAYS = 4
"""Days of a first lap that are worth their counts: those of more take long, and hardly ever tell."""


class ShortSlots(Slots):
    """Every day cut into stretches of a quarter of an hour or more, and one day besides once a minute is over."""

    def __init__(self, problem: Problem, reach: Reach, minute: int) -> None:
        self._after = minute + 1
        super().__init__(problem, reach, MINUTES_A_DAY)

    def _cuts(self, day: int) -> list[int]:
        of = self._problem.days[day]
        slot = max(_SLOT, -(-(of.closes - of.opens) // _MOST_SLOTS))
        midnight = (of.number + 1) * MINUTES_A_DAY
        found = {cut for cut in range(of.opens + slot, of.closes + slot, slot) if cut < midnight}
        return sorted(found | ({self._after} if self._after // MINUTES_A_DAY == of.number else set()))


class FirstLap:
    """Whether all can be poured by a day, as far as the rack and the first lap tell."""

    def __init__(self, problem: Problem, limits: Limits) -> None:
        self.problem, self.limits = problem, limits
        self.most_stripped = cache(self._most_stripped)

    def misses(self, position: int) -> bool:
        """Whether no plan pours all by the end of the working day at a position."""
        problem, lap = self.problem, self.problem.rack_for
        if not lap or self.limits.begun.batches:
            return False
        minute = self._last_of_use(position)
        laps = (minute - problem.opens) // lap
        of_first = minute - laps * lap
        needed = sum(block.demand for block in problem.formats) - self._in_moulds - laps * problem.places
        day = problem.position(of_first // MINUTES_A_DAY)
        # what the moulds hold once is as good as always stripped by then, and would be asked for in vain
        if laps < 1 or needed <= self._in_moulds or day >= _MOST_DAYS:
            return False
        return self.most_stripped(of_first) < needed

    @property
    def _in_moulds(self) -> int:
        """Blocks that stand in moulds at the most."""
        moulds = enumerate(self.problem.moulds)
        return sum((mould.bases or mould.count) * self.problem.most_blocks(kind) for kind, mould in moulds)

    def _last_of_use(self, position: int) -> int:
        """The last minute of a day by which a mould is stripped so that it can be filled again that day."""
        poured_from = self.problem.days[position].last_foam + max(load.foam for load in self.problem.loads)
        return poured_from - min(mould.clean for mould in self.problem.moulds)

    def _most_stripped(self, minute: int) -> int:
        """Blocks stripped by a minute of the first lap, at the most."""
        slots = ShortSlots(self.problem, self.limits.reach, minute)
        when = When(self.problem, self.limits.reach, slots)
        last = self.problem.position(minute // MINUTES_A_DAY)
        counts = Counts(self.problem, self.limits, when, self.limits.begun, last, overflow=True, lean=True)
        by = slots.index(minute)
        stripped = sum(counts.racked[kind].by(by) for kind in counts.kinds)
        least = Linear(counts.model, {"stripped": -1 * stripped}).least("stripped")
        return 1 << 40 if least is None else -whole(least)
