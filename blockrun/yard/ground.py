"""Ground for blocks off the rack in the middle of a run, where it is small: a strip waits while there is no room.

Each block stands there from the day it leaves the rack to the day it is laid, both included. Of a mark what is ready
first is laid first, when it is needed or ready, and what nobody asked for by a day when it is ready. More blocks never
take less room, so what fits with all that is stripped so far, whole blocks or broken ones, goes on fitting.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from blockrun.site import Stack
    from blockrun.yard.setting import Setting

Numbers = npt.NDArray[np.int64]

Coming = list[tuple[int, int]]
"""Blocks that come to the stack together: the mark of each, and the day from which it may be laid."""


class Ground:
    """Blocks on a stack, day by day; running totals by mark."""

    def __init__(self, setting: Setting, stack: Stack) -> None:
        self._stack = stack
        days = np.arange(setting.n_days)
        # what is laid already was laid where it was needed first, and stands here no more
        needs = [of_mark[setting.before.n_laid(mark) :] for mark, of_mark in enumerate(setting.needs)]
        self._needed = np.array([np.searchsorted([day for day, _ in of_mark], days) for of_mark in needs])
        self._dated = np.array([[len(of_mark)] for of_mark in needs])
        self._came, self._ready = np.zeros_like(self._needed), np.zeros_like(self._needed)
        self._format = setting.formats
        marks: defaultdict[int, list[int]] = defaultdict(list)
        for mark, of_format in enumerate(setting.formats):
            marks[of_format].append(mark)
        self._marks = dict(marks)
        self._columns = {of_format: np.zeros_like(days) for of_format in marks}
        self._taken = np.zeros_like(days)

    def has_room(self, coming: Coming, day: int) -> bool:
        """Whether all of them have room from the day they would come, whatever of them breaks."""
        self._add(coming, day)
        more = sum((self._now(of) - self._columns[of] for of in self._formats(coming)), start=self._taken)
        self._add(coming, day, -1)
        return bool((more[day:] <= self._stack.places).all())

    def put(self, coming: Coming, day: int) -> None:
        """Have them come on a day."""
        self._add(coming, day)
        for of_format in self._formats(coming):
            before, self._columns[of_format] = self._columns[of_format], self._now(of_format)
            self._taken = self._taken + self._columns[of_format] - before

    def _add(self, coming: Coming, day: int, sign: int = 1) -> None:
        for mark, ready in coming:
            self._came[mark, day:] += sign
            self._ready[mark, ready + 1 :] += sign

    def _formats(self, coming: Coming) -> Iterable[int]:
        return {self._format[mark] for mark, _ in coming}

    def _now(self, of_format: int) -> Numbers:
        """Columns that blocks of one size and mix take, by day."""
        marks = self._marks[of_format]
        ready = self._ready[marks]
        laid = np.minimum(ready, self._needed[marks]) + np.maximum(0, ready - self._dated[marks])
        there: Numbers = (self._came[marks] - laid).sum(axis=0)
        return -(-there // self._stack.layers)
