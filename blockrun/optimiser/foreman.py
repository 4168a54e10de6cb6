"""The foreman's rule, played well: fill every mould that can be filled today, soonest needed first.

It needs no look ahead, and so is never far wrong where moulds are what is scarce.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from blockrun.optimiser.counts import DayCounts
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.standing import busy_until
from blockrun.optimiser.state import State


@dataclass(frozen=True)
class Chance:
    """A mould that can be filled today, from a minute on at the earliest."""

    kind: int
    free: int


@dataclass
class Foreman:
    """Chooses what a day pours from the state it finds.

    ``latest`` is how long after opening a mould may come free and still be counted on today;
    ``full_only`` leaves a part-filled last turn of a kind for later while more is to come.
    """

    problem: Problem
    limits: Limits
    latest: int

    def chances(self, state: State) -> list[Chance]:
        """Moulds that can be filled today, free ones first, then in the order they come free."""
        now = self.limits.opening(state.day)
        today = now // MINUTES_A_DAY
        found = []
        for kind, mould in enumerate(self.problem.moulds):
            if not self._pours_today(kind, state.day):
                continue
            free = self._free(kind, state, now, base=True)
            if mould.bases:
                free = [max(pair) for pair in zip(free, self._free(kind, state, now, base=False), strict=False)]
            for minute in free:
                pour = self.limits.reach.next_pour(kind, minute) if minute > now else now
                if minute <= now + self.latest and pour is not None and pour // MINUTES_A_DAY == today:
                    found.append(Chance(kind, minute))
        return sorted(found, key=lambda chance: (chance.free > now, chance.free, chance.kind))

    def _pours_today(self, kind: int, day: int) -> bool:
        return self.limits.slots.first_poured(kind, day) is not None

    def _free(self, kind: int, state: State, now: int, *, base: bool) -> list[int]:
        mould = self.problem.moulds[kind]
        units = mould.bases if base and mould.bases else mould.count
        busy = busy_until(self.problem, kind, state, now, base=base)
        return sorted([now] * (units - len(busy)) + [max(now, minute) for minute in busy if minute is not None])

    def day(self, state: State) -> DayCounts:
        """Blocks and turns of the day: as many moulds as there is something to cast in."""
        urgency = self._urgency(state)
        left = state.left_to_pour(self.problem)
        blocks: dict[tuple[int, int], int] = {}
        turns: dict[int, int] = {}
        for chance in sorted(
            self.chances(state), key=lambda chance: (len(self.problem.moulds[chance.kind].casts), chance.free)
        ):
            mould = self.problem.moulds[chance.kind]
            filled = 0
            for _ in range(mould.cavities):
                block = min((b for b in mould.casts if left[b]), key=urgency, default=None)
                if block is not None:
                    left[block] -= 1
                    filled += 1
                    blocks[chance.kind, block] = blocks.get((chance.kind, block), 0) + 1
            if filled:
                turns[chance.kind] = turns.get(chance.kind, 0) + 1
        return DayCounts(blocks, turns, {kind: 1 << 20 for kind in range(len(self.problem.moulds))})

    def worth(self, state: State) -> dict[int, int]:
        """Weights of the formats, the more urgent the heavier."""
        urgency = self._urgency(state)
        order = sorted(range(len(self.problem.formats)), key=urgency, reverse=True)
        return {block: 3 + position for position, block in enumerate(order)}

    def _urgency(self, state: State) -> Callable[[int], tuple[int, float, int]]:
        """Smaller is more urgent: the next need date, then the most mould work left, then the biggest."""
        problem = self.problem
        left = state.left_to_pour(problem)
        cavities = [
            sum(mould.count * mould.cavities / len(mould.casts) for mould in problem.moulds if block in mould.casts)
            for block in range(len(problem.formats))
        ]

        def rank(block: int) -> tuple[int, float, int]:
            of_block = problem.formats[block]
            due = _next_due(of_block.needs, of_block.demand - left[block])
            return (due, -left[block] / max(cavities[block], 1e-9), -of_block.volume)

        return rank


def _next_due(needs: tuple[tuple[int, int], ...], poured: int) -> int:
    for due, count in needs:
        poured -= count
        if poured < 0:
            return due
    return 1 << 30
