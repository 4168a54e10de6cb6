"""How late a plan is: the blocks owed on each day, by the minutes of their pour and of their strip."""

from __future__ import annotations

from bisect import bisect_left
from functools import cache

from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Expression
from blockrun.optimiser.exact.batches import Batches
from blockrun.optimiser.exact.clock import midnight_after
from blockrun.optimiser.exact.turns import Turns
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem


class Lateness:
    """Block-days late of a plan that has no more than ``most`` of them: ``days`` adds them up."""

    def __init__(self, model: cp_model.CpModel, problem: Problem, batches: Batches, turns: Turns, most: int) -> None:
        self.model, self.problem, self.batches, self.turns, self.most = model, problem, batches, turns, most
        self._left_rack, self._old_enough = cache(self._turn_left_rack), cache(self._batch_old_enough)
        self.days: Expression = sum((self._owed(block) for block in range(len(problem.formats))), start=0)

    def _owed(self, block: int) -> Expression:
        """Blocks of a format due and not ready, day after day; one more day would be one too many."""
        needs = self.problem.formats[block].needs
        if not needs:
            return 0
        owed: Expression = 0
        end = needs[-1][0] + self.most
        for day in range(needs[0][0], end + 1):
            needed = sum(count for due, count in needs if due <= day)
            short = self.model.new_int_var(0, min(needed, self.most) if day < end else 0, f"{block} owed on {day}")
            self.model.add(self._ready(block, day) + short >= needed)
            owed += short
        return owed

    def _ready(self, block: int, day: int) -> Expression:
        """Blocks of a format that may be laid by the end of a day."""
        ready: Expression = 0
        for at, turn in enumerate(self.turns.all):
            for (batch, casting), fill in turn.fills.items():
                if each := self.problem.castings[casting].of(block):
                    there = self.model.new_int_var(0, self.problem.moulds[turn.kind].cavities, f"{block} there {day}")
                    self.model.add(there <= fill)
                    for yes in (self._left_rack(at, day), self._old_enough(batch, day)):
                        self.model.add(there == 0).only_enforce_if(yes.negated())
                    ready += each * there
        return ready

    def _turn_left_rack(self, at: int, day: int) -> cp_model.IntVar:
        """Whether the blocks of a turn leave the rack by the end of a day."""
        turn = self.turns.all[at]
        left = self.model.new_bool_var(f"left the rack on {day}")
        too_late = bisect_left(range(self._minutes), midnight_after(day), key=self.problem.leaves_rack)
        self.model.add(turn.strip + self.problem.moulds[turn.kind].strip < too_late).only_enforce_if(left)
        return left

    def _batch_old_enough(self, number: int, day: int) -> cp_model.IntVar:
        """Whether the blocks of a batch are old enough by the end of a day."""
        old = self.model.new_bool_var(f"old enough on {day}")
        too_late = bisect_left(range(self._minutes), midnight_after(day), key=self._old_at)
        self.model.add(self.batches.all[number].pour_to < too_late).only_enforce_if(old)
        return old

    @property
    def _minutes(self) -> int:
        return self.problem.horizon * MINUTES_A_DAY

    def _old_at(self, poured: int) -> int:
        table = self.problem.ripe_lay
        return poured + self.problem.lay_at if table is None else int(table[poured])
