"""How many blocks a small stack lets off the rack by each day, at the most, by arithmetic alone.

All that leaves the rack stands on the stack until it is laid, and nothing is laid before the day it is needed on. So by
a day no more have left it than were needed before, and a full stack; where some of these are late, fewer were laid.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import cached_property
from itertools import accumulate, chain, count

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem, Stack

Needs = Sequence[tuple[tuple[int, int], ...]]
"""By format, the days on which blocks are needed and how many, ascending."""


class OffRack:
    """Blocks that are needed, and the room there is for them on the way; others only take more of it."""

    def __init__(self, problem: Problem, stack: Stack, needs: Needs) -> None:
        self._problem, self._stack = problem, stack
        self._dues = [[due for due, _ in of_block] for of_block in needs]
        self._upto = [[0, *accumulate(number for _, number in of_block)] for of_block in needs]
        self._blocks = [upto[-1] for upto in self._upto]

    def by(self, day: int, blocks: Sequence[int]) -> int:
        """Of so many of each format, the first that are needed, those off the rack by a day."""
        leaving = self.last_day(day)
        if leaving is None:
            return 0
        laid = self.needed_before(leaving)
        standing = most_in(self._stack, [max(0, number - gone) for number, gone in zip(blocks, laid, strict=True)])
        return min(sum(blocks), self._gone.get(leaving, sum(blocks)), sum(laid) + standing)

    def short(self) -> dict[int, int]:
        """Blocks that are needed by each day and cannot be off the rack by then, as long as there are some."""
        found = dict[int, int]()
        last = max((dues[-1] for dues in self._dues if dues), default=-1)
        for day in count(min((dues[0] for dues in self._dues if dues), default=0)):
            needed = self.needed_before(day + 1)
            found[day] = sum(needed) - self.by(day, needed)
            if day >= last and not found[day]:
                return found
        return found

    def last_day(self, by: int) -> int | None:
        """The last day up to one on which blocks may leave a rack; past all days known, every day will do."""
        if by > self._days[-1]:
            return by
        place = bisect_right(self._days, by)
        return self._days[place - 1] if place else None

    def needed_before(self, day: int) -> list[int]:
        """Blocks of each format that may have been laid before a day."""
        pairs = zip(self._dues, self._upto, strict=True)
        return [upto[bisect_left(dues, day)] for dues, upto in pairs]

    @cached_property
    def _days(self) -> list[int]:
        worked = {day.number for day in self._problem.days}
        return sorted(worked | {start // MINUTES_A_DAY for start, _ in self._problem.later})

    @cached_property
    def _gone(self) -> dict[int, int]:
        """Off the rack by each day on which some may leave it, until all may have."""
        full, blocks = most_in(self._stack, self._blocks), sum(self._blocks)
        gone, found = 0, dict[int, int]()
        for day in chain(self._days, count(self._days[-1] + 1)):
            gone = found[day] = min(blocks, min(gone, sum(self.needed_before(day))) + full)
            if gone == blocks:
                break
        return found


def most_in(stack: Stack, blocks: Sequence[int]) -> int:
    """Of so many blocks of each format, those that a stack holds at the most: whole columns first."""
    whole = sum(number // stack.layers for number in blocks)
    begun = sorted((number % stack.layers for number in blocks), reverse=True)
    return stack.layers * min(whole, stack.places) + sum(begun[: max(0, stack.places - whole)])
