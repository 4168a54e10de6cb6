"""How soon, by slots: when what is poured in a slot can be stripped, filled again, off the rack and laid."""

from __future__ import annotations

from functools import cache, cached_property

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.reach import Reach
from blockrun.optimiser.slots import NEVER, Slots


class When:
    """The earliest each thing can come after a pour.

    With a ``delay`` of some minutes every pour is taken to end that much later than the earliest:
    nearer to what a day really manages, and so a better guide, but no bound any more.
    """

    def __init__(self, problem: Problem, reach: Reach, slots: Slots, delay: int = 0) -> None:
        self.problem, self.reach, self.slots, self.delay = problem, reach, slots, delay
        self.strip_slot = cache(self._strip_slot)
        self.sides_slot = cache(self._sides_slot)
        self.refill_slot = cache(self._refill_slot)
        self.leave_slot = cache(self._leave_slot)
        self.ready_day = cache(self._ready_day)

    def first_poured(self, kind: int, slot: int) -> int | None:
        """Earliest end of a pour into this kind in a slot; ``None`` where none may end."""
        of_slot = self.slots.all[slot]
        first = self.slots.first_poured(kind, of_slot.day)
        if first is None or first > of_slot.last:
            return None
        poured = min(max(first, of_slot.first) + self.delay, self.problem.days[of_slot.day].closes)
        # frost may forbid what ends this late in the day
        return poured if self.reach.frost_allows(kind, poured - self.reach.pours[kind].shortest_pour) else None

    def _strip_slot(self, kind: int, slot: int) -> int:
        """Earliest slot in which a turn poured in this one is stripped."""
        poured = self.first_poured(kind, slot)
        return NEVER if poured is None else self.slots.index(self.reach.stripped(kind, poured))

    def _sides_slot(self, kind: int, slot: int) -> int:
        """Earliest slot in which sides of a turn poured in this one may stand round another poured."""
        return self._refill(kind, slot, base=False)

    def _refill_slot(self, kind: int, slot: int) -> int:
        """Earliest slot in which the mould, or base, of a turn poured in this one may be poured again."""
        return self._refill(kind, slot, base=True)

    def _refill(self, kind: int, slot: int, *, base: bool) -> int:
        poured = self.first_poured(kind, slot)
        return NEVER if poured is None else self.slots.index(self.reach.poured_again(kind, poured, base=base))

    def _ready_day(self, kind: int, slot: int) -> int:
        """Number of the earliest day a block poured in this slot may be laid."""
        poured = self.first_poured(kind, slot)
        stripped = None if poured is None else self.reach.stripped(kind, poured)
        if poured is None or stripped is None:
            return self.problem.horizon
        return self.problem.ready(poured, stripped) // MINUTES_A_DAY

    @cached_property
    def ready_from(self) -> list[int]:
        """For each working day, the earliest day on which a block poured on it or later may be laid."""
        earliest, soonest = [self.problem.horizon] * len(self.problem.days), self.problem.horizon
        for day in reversed(range(len(self.problem.days))):
            for kind in range(len(self.problem.moulds)):
                slots = (slot for slot in self.slots.of_day[day] if self.first_poured(kind, slot) is not None)
                first = next(slots, None)
                if first is not None:
                    soonest = min(soonest, self.ready_day(kind, first))
            earliest[day] = soonest
        return earliest

    def _leave_slot(self, slot: int) -> int:
        """Earliest slot in which a block stripped in this one leaves the rack."""
        of_slot = self.slots.all[slot]
        quickest = min(mould.strip for mould in self.problem.moulds)
        stripped = max(of_slot.first, self.problem.days[of_slot.day].opens + quickest)
        return self.slots.index(self.problem.leaves_rack(stripped))
