"""Places on the rack over time, and the stack behind it: a block keeps its place from its strip until it leaves."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.stacked import Columns, Stacked
from blockrun.optimiser.state import Turn

Stays = tuple[list[int], list[int], list[int]]
"""Minutes of strips and of leaving, both ascending, for what is stripped later never leaves sooner; and the blocks."""
Kept = tuple[Stays, Columns | None]


class Rack:
    """Blocks on the rack, a stay for each strip, and then on the stack where its ground is small."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._came: list[int] = []
        self._leave: list[int] = []
        self._blocks: list[int] = []
        self._upto = [0]
        self._held = 0
        self._stacked = None if problem.stack is None else Stacked(problem, problem.stack)

    def forget(self, now: int) -> None:
        """Leave out what has left by now."""
        gone = bisect_right(self._leave, now)
        if gone:
            self._hold((self._came[gone:], self._leave[gone:], self._blocks[gone:]))

    def take(self, turn: Turn, stripped: int, now: int = 0) -> None:
        """Blocks of a turn come to the rack, if they have not left it by now, and then to the stack."""
        leaves = self.problem.leaves_rack(stripped)
        if self._stacked is not None:
            self._stacked.add(turn, stripped)
        if self.problem.rack_for and leaves > max(stripped, now):
            place = bisect_right(self._came, stripped)
            self._came.insert(place, stripped)
            self._leave.insert(place, leaves)
            self._blocks.insert(place, turn.places)
            self._count(place)

    def release(self, turn: Turn, stripped: int) -> None:
        """Blocks of a turn that were to come do not."""
        if self._stacked is not None:
            self._stacked.add(turn, stripped, -1)
        for place in range(bisect_left(self._came, stripped), bisect_right(self._came, stripped)):
            if self._blocks[place] == turn.places:
                for of_stays in (self._came, self._leave, self._blocks):
                    del of_stays[place]
                self._count(place)
                return

    def as_is(self) -> Kept:
        """What is there and will be, to give back."""
        stays = list(self._came), list(self._leave), list(self._blocks)
        return stays, None if self._stacked is None else self._stacked.as_is()

    def give_back(self, kept: Kept) -> None:
        """Have it as it was."""
        stays, columns = kept
        self._hold(stays)
        if self._stacked is not None and columns is not None:
            self._stacked.back_to(columns)

    def _hold(self, stays: Stays) -> None:
        """Have these stays and no others."""
        self._came, self._leave, self._blocks = stays
        self._count(0)

    def _count(self, place: int) -> None:
        """Add up the blocks anew from one stay on."""
        del self._upto[place + 1 :]
        for blocks in self._blocks[place:]:
            self._upto.append(self._upto[-1] + blocks)
        self._held = self._upto[-1]

    def room_from(self, turn: Turn, stripped: int) -> int:
        """The same minute where the rack and the stack have room from then on, else the next at which they may have."""
        blocks = turn.blocks
        if self._stacked is not None and not self._stacked.takes(turn, stripped):
            return (stripped // MINUTES_A_DAY + 1) * MINUTES_A_DAY
        if self._held + blocks <= self.problem.places or not self.problem.rack_for:
            return stripped
        leaves = self.problem.leaves_rack(stripped)
        later = bisect_right(self._came, stripped), bisect_left(self._came, leaves)
        for moment in (stripped, *self._came[slice(*later)]):
            if self.free_at(moment) < blocks:
                gone = bisect_right(self._leave, moment)
                return self._leave[gone] if gone < bisect_right(self._came, moment) else 1 << 30
        return stripped

    def free_at(self, minute: int) -> int:
        """Places free at a minute, as far as is known."""
        came, gone = bisect_right(self._came, minute), bisect_right(self._leave, minute)
        return self.problem.places - self._upto[came] + self._upto[gone]
