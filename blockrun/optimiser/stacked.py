"""What stands on the stack day by day: each block from the day it leaves the rack to the day it is laid.

Of a format what is ready first goes where it is needed first, and what is left, without a date, when it is ready. So
the blocks there follow from three numbers: come by that day, ready before it, and needed before it. More blocks never
take less room, whichever are added.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem, Stack
from blockrun.optimiser.state import Turn

Numbers: TypeAlias = npt.NDArray[np.int64]
Columns: TypeAlias = tuple[Numbers, Numbers]


class Stacked:
    """Blocks of a problem that come to its stack; ``came`` and ``ready`` are by format and day, running totals."""

    def __init__(self, problem: Problem, stack: Stack) -> None:
        self.problem, self.stack = problem, stack
        end = problem.horizon * MINUTES_A_DAY
        days = np.arange(problem.ready(end - 1, end) // MINUTES_A_DAY + 2)
        dues: list[Numbers] = [np.repeat(*_columns(block.needs)) for block in problem.formats]
        self._due = np.array([np.searchsorted(due, days) for due in dues])
        self._dated = np.array([[len(due)] for due in dues])
        self._came, self._ready = np.zeros_like(self._due), np.zeros_like(self._due)

    @classmethod
    def of(cls, problem: Problem, stack: Stack, turns: Iterable[Turn]) -> Stacked:
        """With the blocks of all turns that are stripped."""
        stacked = cls(problem, stack)
        for turn in turns:
            if turn.strip is not None:
                stacked.add(turn, turn.strip.end)
        return stacked

    def as_is(self) -> Columns:
        """What has come and was ready, to go back to."""
        return self._came.copy(), self._ready.copy()

    def back_to(self, kept: Columns) -> None:
        """Have it as it was."""
        self._came, self._ready = kept

    def add(self, turn: Turn, stripped: int, sign: int = 1) -> None:
        """Blocks of a turn stripped at a minute come, or with a ``sign`` of -1 they do not after all."""
        leaves = self.problem.leaves_rack(stripped) // MINUTES_A_DAY
        for place, (number, _) in enumerate(turn.fills):
            ready = turn.ready(self.problem, place, stripped) // MINUTES_A_DAY
            for block, count in self.problem.castings[number].gives:
                self._came[block, leaves:] += sign * count
                self._ready[block, ready + 1 :] += sign * count

    def takes(self, turn: Turn, stripped: int) -> bool:
        """Whether there is room for the blocks of a turn stripped at a minute, too."""
        self.add(turn, stripped)
        fits = self.fits(self.problem.leaves_rack(stripped) // MINUTES_A_DAY)
        self.add(turn, stripped, -1)
        return fits

    def fits(self, since: int = 0) -> bool:
        """Whether there is room for all, from a day on."""
        columns = -(-self._there(slice(since, None)) // self.stack.layers)
        return bool(columns.sum(axis=0).max() <= self.stack.places)

    def on(self, day: int) -> list[int]:
        """Blocks of each format on a day."""
        return [int(count) for count in self._there(slice(day, day + 1))[:, 0]]

    def _there(self, days: slice) -> Numbers:
        """Blocks by format and day."""
        ready = self._ready[:, days]
        laid = np.minimum(ready, self._due[:, days]) + np.maximum(0, ready - self._dated)
        there: Numbers = self._came[:, days] - laid
        return there


def _columns(needs: tuple[tuple[int, int], ...]) -> tuple[Numbers, Numbers]:
    """Days, and how many are needed on each."""
    both = np.array(needs, dtype=np.int64).reshape(-1, 2)
    return both[:, 0], both[:, 1]
