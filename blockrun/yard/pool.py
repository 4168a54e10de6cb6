"""What is still to be poured besides the plan: blocks that were lost, and those left for another day."""

from __future__ import annotations

from bisect import insort
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
    waiting : (last day on which it should be poured, mark), most urgent first.
    lost : blocks lost so far, by mark.
    """

    def __init__(self, setting: Setting, *, with_spares: bool = True) -> None:
        self._wanted = setting.wanted
        self._left_out = frozenset[int]() if with_spares else setting.spares
        self._to_come = list(setting.wanted)
        if with_spares:
            for mark, count in setting.spares_by_mark.items():
                self._to_come[mark] += count
        self.waiting: list[tuple[int, int]] = []
        self.lost: Counter[int] = Counter()

    def counts(self, block: int | None) -> bool:
        """Whether a block may serve a course."""
        return block is None or block not in self._left_out

    def lose(self, mark: int, block: int | None, due: int) -> None:
        """A block is lost: it waits to be poured again where spares, cast or to come, do not take its place."""
        if not self.counts(block):
            return
        self.lost[mark] += 1
        if self._to_come[mark] > self._wanted[mark]:
            self._to_come[mark] -= 1
        else:
            insort(self.waiting, (due, mark))

    def lose_all(self, fill: Fill) -> None:
        """All blocks of a fill are lost."""
        for mark, block in fill.each():
            self.lose(mark, block, fill.due)

    def leave(self, fill: Fill, at: int) -> None:
        """What was to be poured has to wait: from a day on it is urgent, if not before, where a course waits for it."""
        for mark, block in fill.each():
            if self.counts(block):
                insort(self.waiting, (min(fill.due, at) if fill.due < NEVER else NEVER, mark))

    def take(self, fill: Fill) -> None:
        """Pour some of it."""
        for mark in fill.marks:
            found = next((entry for entry in self.waiting if entry[1] == mark), None)
            if found:
                self.waiting.remove(found)
            else:
                self._to_come[mark] += 1
