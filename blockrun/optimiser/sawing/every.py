"""All saw plans of a slab that are worth having, where they are few: no other gives as much of every item or more.

The same dynamic programming as in `grid.py`, with sets of counts in place of worths. Counts stop at what is wanted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.grid import Cell, Cut, Grid, Laid
from blockrun.optimiser.sawing.job import Column, Job
from blockrun.optimiser.sawing.plan import Piece, SawPlan
from blockrun.optimiser.sawing.rests import trimmed

Counted = NDArray[np.int64]
"""Pieces of each item wanted."""
Sets = NDArray[np.int64]
"""The same of several plans, shape (n_plans, n_items)."""

MOST_PLANS: Final = 3000
_SUMS_A_WORK: Final = 400_000
"""Pairs of plans put together in a unit of an effort, measured."""


def every_column(job: Job, grids: Sequence[Grid], effort: Effort) -> list[Column] | None:
    """A column for each such plan of each slab; None where there are too many for the effort."""
    if effort.stop():
        return None
    most_sums = int(effort.work * _SUMS_A_WORK / len(grids))
    columns: list[Column] = []
    for index, grid in enumerate(grids):
        try:
            columns += [Column.of(index, plan) for plan in _Every(job, grid, most_sums).plans()]
        except _TooManyError:
            return None
    return columns


class _TooManyError(Exception):
    pass


class _Every:
    """Sets of counts of every size that cuts can leave."""

    def __init__(self, job: Job, grid: Grid, most_sums: int) -> None:
        if not grid.exact:
            raise _TooManyError
        self.grid, self.items = grid, list(job.demand)
        self.wanted = np.array(list(job.demand.values()), dtype=np.int64)
        self.sets: dict[Cell, Sets] = {}
        self.sums, self.most_sums = 0, most_sums

    def plans(self) -> Iterator[SawPlan]:
        """A plan for each set of counts of the whole slab."""
        for size in product(range(len(self.grid.xs)), range(len(self.grid.ys))):
            self.sets[size] = self._set(size)
        whole = self.sets[self.grid.whole]
        if len(whole) > MOST_PLANS:
            raise _TooManyError
        wanted = dict(zip(self.items, self.wanted, strict=True))
        return (trimmed(SawPlan.of(self._pieces(counts)), wanted) for counts in whole if counts.any())

    def _set(self, size: Cell) -> Sets:
        found = [np.zeros((1, len(self.items)), dtype=np.int64)]
        found += [self._one(single)[None] for single in self.grid.within(size)]
        for cut in self.grid.cuts(size):
            self.sums += len(self.sets[cut.first]) * len(self.sets[cut.second])
            if self.sums > self.most_sums:
                raise _TooManyError
            found.append(self._sums(cut).reshape(-1, len(self.items)))
        return _largest(np.unique(np.concatenate(found), axis=0))

    def _one(self, single: Laid) -> Counted:
        return np.array([item == single.item for item in self.items], dtype=np.int64)

    def _sums(self, cut: Cut) -> Sets:
        """What both parts give together, shape (plans of the first, of the second, items)."""
        both: Sets = np.minimum(self.sets[cut.first][:, None] + self.sets[cut.second][None], self.wanted)
        return both

    def _pieces(self, counts: Counted) -> Iterator[Piece]:
        """Follow cuts that give these counts from the whole slab down to single pieces."""
        parts = [(self.grid.whole, counts, 0, 0)]
        while parts:
            size, counts, right, up = parts.pop()
            single = next((one for one in self.grid.within(size) if np.array_equal(self._one(one), counts)), None)
            if single:
                yield self.grid.piece(single, right, up)
            elif counts.any():
                cut, first, second = self._cut(size, counts)
                parts += [(cut.second, second, right + cut.right, up + cut.up), (cut.first, first, right, up)]

    def _cut(self, size: Cell, counts: Counted) -> tuple[Cut, Counted, Counted]:
        """A cut that gives these counts, and what each part gives."""
        cut = next(cut for cut in self.grid.cuts(size) if (self._sums(cut) == counts).all(axis=2).any())
        first, second = np.argwhere((self._sums(cut) == counts).all(axis=2))[0]
        return cut, self.sets[cut.first][first], self.sets[cut.second][second]


def _largest(sets: Sets) -> Sets:
    """Without those that another is at least as large as in every count."""
    sets = sets[np.argsort(-sets.sum(axis=1), kind="stable")]
    kept = np.ones(len(sets), dtype=np.bool_)
    for at in range(len(sets)):
        if kept[at]:
            kept[at + 1 :] &= ~(sets[at + 1 :] <= sets[at]).all(axis=1)
    return sets[kept]
