"""What is still to be poured besides the plan: blocks that were lost, and those left for another day."""

from __future__ import annotations

from bisect import bisect_right, insort
from collections import Counter
from typing import TYPE_CHECKING

from blockrun.yard.setting import NEVER

if TYPE_CHECKING:
    from blockrun.yard.setting import Fill, Setting


class Pool:
    """Blocks to be poured again.

    Parameters
    ----------
    with_spares : whether the spares of the plan are there to be used first.

    Attributes
    ----------
    with_spares : the same.
    waiting : (last day on which it should be poured, mark), most urgent first.
    lost : blocks lost so far, by mark.
    """

    def __init__(self, setting: Setting, *, with_spares: bool = True) -> None:
        self.with_spares = with_spares
        self._day_of_spare = setting.spares if with_spares else {}
        self._left_out = frozenset[int]() if with_spares else frozenset(setting.spares)
        # by mark, the days on which spares that nobody needs yet are poured
        self._spare: list[list[int]] = [[] for _ in setting.marks]
        if with_spares:
            for mark, days in setting.days_of_spares.items():
                self._spare[mark] = list(days)
        self.waiting: list[tuple[int, int]] = []
        self.lost: Counter[int] = Counter()

    def counts(self, block: int | None) -> bool:
        """Whether a block may serve a course."""
        return block is None or block not in self._left_out

    def lose(self, mark: int, block: int | None, due: int, today: int) -> None:
        """A block is lost: it waits to be poured again, unless a spare that is there in time takes its place."""
        if not self.counts(block):
            return
        self.lost[mark] += 1
        spare, own = self._spare[mark], None if block is None else self._day_of_spare.get(block)
        if own in spare:
            spare.remove(own)
            return
        if own is not None:
            due = today  # this spare had taken the place of a block that somebody waits for
        in_time = bisect_right(spare, max(due, today))
        if in_time:
            del spare[in_time - 1]
        else:
            insort(self.waiting, (due, mark))

    def lose_all(self, fill: Fill, today: int) -> None:
        """All blocks of a fill are lost."""
        for mark, block in fill.each():
            self.lose(mark, block, fill.due, today)

    def leave(self, fill: Fill, at: int) -> None:
        """What was to be poured has to wait: from a day on it is urgent, if not before, where a course waits for it."""
        for mark, block in fill.each():
            if self.counts(block):
                insort(self.waiting, (min(fill.due, at) if fill.due < NEVER else NEVER, mark))

    def take(self, fill: Fill, today: int) -> None:
        """Pour some of it; what a slab gives besides may serve as a spare."""
        for mark in fill.marks:
            found = next((entry for entry in self.waiting if entry[1] == mark), None)
            if found:
                self.waiting.remove(found)
            else:
                insort(self._spare[mark], today)
