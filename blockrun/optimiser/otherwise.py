"""What a plan does otherwise than the one before on its next working days: of equal plans the one with the least wins.

A batch is as it was where its load, its sets of test cubes and what it pours into each of its moulds are the same, and
it starts about when it did. What was due before is due on the first day, when that opens. Strips are not looked at.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import Batch, State

DAYS: Final = 2
"""Working days that people may have got ready for (our choice)."""
SAME_TIME_MIN: Final = 15
"""A batch that moves by less stays where it was (our choice)."""

Looks = tuple[object, ...]


@dataclass(frozen=True)
class Otherwise:
    """Counts what plans of a problem do otherwise than an old one."""

    problem: Problem
    old: State

    def __call__(self, plan: State) -> int:
        """Batches of the next days that are moved, gone or new."""
        return sum(self._of_day(self._before[day], self._on(plan, day)) for day in range(len(self._before)))

    @cached_property
    def _before(self) -> list[dict[Looks, list[int]]]:
        return [self._on(self.old, day) for day in range(min(DAYS, len(self.problem.days)))]

    def _on(self, plan: State, position: int) -> dict[Looks, list[int]]:
        """Starts of the batches of a day, by what they look like to those who mix and pour them."""
        opens = self.problem.days[position].opens
        begins = 0 if plan is self.old and not position else opens
        ends = (self.problem.days[position].number + 1) * MINUTES_A_DAY
        found: dict[Looks, list[int]] = {}
        of_day = {id(batch): batch for batch in plan.batches if begins <= batch.start < ends}
        moulds: dict[int, list[Looks]] = {key: [] for key in of_day}
        for turn in plan.turns:
            for key in {id(batch) for _, batch in turn.fills} & of_day.keys():
                poured = Counter(number for number, batch in turn.fills if id(batch) == key)
                moulds[key].append((turn.mould, *sorted(poured.items())))
        for key, batch in of_day.items():
            found.setdefault(_looks(batch, moulds[key]), []).append(max(opens, batch.start))
        return found

    def _of_day(self, before: dict[Looks, list[int]], now: dict[Looks, list[int]]) -> int:
        return sum(_changed(before.get(looks, []), now.get(looks, [])) for looks in before.keys() | now.keys())


def _looks(batch: Batch, moulds: list[Looks]) -> Looks:
    return (batch.load, batch.cubes, *sorted(moulds, key=repr))


def _changed(before: list[int], now: list[int]) -> int:
    """Batches that look the same are paired in their order; what is left on either side is gone or new."""
    pairs = list(zip(sorted(before), sorted(now), strict=False))
    return abs(len(before) - len(now)) + sum(abs(one - other) >= SAME_TIME_MIN for one, other in pairs)
