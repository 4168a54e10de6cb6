"""The dearest saw plan of a slab when every item has a worth: exact dynamic programming over the sizes cuts can leave.

A size is worth its dearest piece, or what its two parts are worth after the best cut, upright or level (Gilmore and
Gomory 1966, over the places of `places.py`; from memory). Pieces may be sawn as often as they fit.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from blockrun.optimiser.sawing.places import Places, fewer, floor, places
from blockrun.optimiser.sawing.plan import Piece, SawPlan, Slab

Worths = NDArray[np.float64]
Size = tuple[int, int]
Cell = tuple[int, int]
"""Indexes of a length and a height among the places."""

MOST_STEPS: Final = 60_000_000
"""Cuts looked at in one pricing (a few tenths of a second); finer grids are thinned to it."""
FEWEST_PLACES: Final = 8
MOST_PLACES: Final = 3000
"""No side is thinned below the fewest; more than the most would take hundreds of megabytes."""


@dataclass(frozen=True)
class Laid:
    """A way a piece can lie, one blade longer and higher than it is."""

    item: int
    length: int
    height: int


class Cut(NamedTuple):
    """What a cut makes of a size: two sizes, and where the second begins, as seen from the first."""

    first: Cell
    second: Cell
    right: int
    up: int


def ways_to_lie(slab: Slab, kerf: int, sizes: Sequence[Size]) -> list[Laid]:
    """Each item as it is and turned, where it fits."""
    return [
        Laid(item, length + kerf, height + kerf)
        for item, size in enumerate(sizes)
        for length, height in dict.fromkeys((size, size[::-1]))
        if length <= slab.length and height <= slab.height
    ]


def best_plan(
    slab: Slab, kerf: int, sizes: Sequence[Size], worth: Sequence[float], *, most_steps: int = MOST_STEPS
) -> SawPlan:
    """The saw plan that is worth most, items being sawn as often as they fit.

    Parameters
    ----------
    kerf : width of a cut.
    sizes : length and height of each item, turned or not.
    worth : of a piece of each item; pieces worth nothing are not sawn.
    most_steps : cuts to look at; where more would be needed the plan may miss the best.
    """
    wanted = [item for item, value in enumerate(worth) if value > 0]
    grid = Grid.of(slab, kerf, sizes, wanted, most_steps=most_steps)
    return grid.best(worth)


class Grid:
    """The sizes that cuts of one slab can leave.

    Attributes
    ----------
    exact : no plan is missed.
    """

    def __init__(self, xs: Places, ys: Places, kerf: int, laid: Sequence[Laid], *, exact: bool) -> None:
        self.xs, self.ys, self.kerf, self.laid, self.exact = xs, ys, kerf, laid, exact
        self._corners = [(int(np.searchsorted(xs, one.length)), int(np.searchsorted(ys, one.height))) for one in laid]
        self._across = [_parts(xs, at) for at in range(len(xs))]
        self._up = [_parts(ys, at) for at in range(len(ys))]
        self._stacks = _table(self._up)

    @classmethod
    def of(
        cls, slab: Slab, kerf: int, sizes: Sequence[Size], wanted: Sequence[int], *, most_steps: int = MOST_STEPS
    ) -> Grid:
        """The grid of a slab for the items wanted, thinned where it would be too fine."""
        laid = [one for one in ways_to_lie(slab, kerf, sizes) if one.item in set(wanted)]
        sides = (slab.length + kerf, slab.height + kerf)
        lengths = ([one.length for one in laid], [one.height for one in laid])
        if not laid:
            return cls(np.zeros(1, np.int64), np.zeros(1, np.int64), kerf, laid, exact=True)
        full = [places(side, used) for side, used in zip(sides, lengths, strict=True)]
        most = _thinned(len(full[0]), len(full[1]), most_steps)
        xs, ys = (
            every if len(every) <= few else fewer(side, used, few)
            for every, few, side, used in zip(full, most, sides, lengths, strict=True)
        )
        return cls(xs, ys, kerf, laid, exact=len(xs) == len(full[0]) and len(ys) == len(full[1]))

    def best(self, worth: Sequence[float]) -> SawPlan:
        """The plan worth most; no piece of it is worth nothing."""
        worths = self._worths(worth)
        return SawPlan.of(self._pieces(worth, worths))

    def value(self, worth: Sequence[float]) -> float:
        """What the best plan is worth."""
        return float(self._worths(worth)[-1, -1])

    def _worths(self, worth: Sequence[float]) -> Worths:
        """What each size is worth, shape (lengths, heights)."""
        best = self._single(worth)
        for row, (first, second) in zip(best, self._across, strict=True):
            if len(first):
                np.maximum(row, (best[first] + best[second]).max(axis=0), out=row)
            self._stack(row)
        return best

    def _single(self, worth: Sequence[float]) -> Worths:
        best = np.zeros((len(self.xs), len(self.ys)))
        for one, (x, y) in zip(self.laid, self._corners, strict=True):
            np.maximum(best[x:, y:], worth[one.item], out=best[x:, y:])
        return best

    def _stack(self, row: Worths) -> None:
        """Level cuts, over and over, each time stacks of up to twice as many parts, until none is worth more."""
        first, second = self._stacks
        while len(first):
            higher = np.maximum(row, (row[first] + row[second]).max(axis=0))
            if np.array_equal(higher, row):
                return
            row[:] = higher

    def _pieces(self, worth: Sequence[float], worths: Worths) -> Iterator[Piece]:
        """Follow the best cuts from the whole slab down to single pieces."""
        parts = [(self.whole, 0, 0)]
        while parts:
            size, right, up = parts.pop()
            if worths[size] <= 0:
                continue
            single = next((one for one in self.within(size) if worth[one.item] == worths[size]), None)
            if single:
                yield self.piece(single, right, up)
            else:
                cut = max(self.cuts(size), key=lambda cut: worths[cut.first] + worths[cut.second])
                parts += [(cut.second, right + cut.right, up + cut.up), (cut.first, right, up)]

    @property
    def whole(self) -> Cell:
        """The size of the slab."""
        return len(self.xs) - 1, len(self.ys) - 1

    def within(self, size: Cell) -> Iterator[Laid]:
        """Pieces that fit into a size."""
        fits = zip(self.laid, self._corners, strict=True)
        return (one for one, corner in fits if corner[0] <= size[0] and corner[1] <= size[1])

    def cuts(self, size: Cell) -> Iterator[Cut]:
        """Every cut of a size, upright ones first."""
        x, y = size
        for first, second in zip(*self._across[x], strict=True):
            yield Cut((int(first), y), (int(second), y), int(self.xs[first]), 0)
        for first, second in zip(*self._up[y], strict=True):
            yield Cut((x, int(first)), (x, int(second)), 0, int(self.ys[first]))

    def piece(self, one: Laid, right: int, up: int) -> Piece:
        """The piece itself, with its lower left corner there."""
        return Piece(one.item, right, up, one.length - self.kerf, one.height - self.kerf)


def _parts(every: Places, at: int) -> tuple[Places, Places]:
    """Both parts of every cut of the place with this index: the shorter, and the most that is left beside it."""
    first = np.arange(1, 1 + int(floor(every, every[at : at + 1] // 2)[0]))
    return first, floor(every, every[at] - every[first])


def _table(parts: Sequence[tuple[Places, Places]]) -> tuple[Places, Places]:
    """The parts of every place side by side, shape (cuts, places); cuts of nothing fill it up."""
    most = max(len(first) for first, _ in parts)
    firsts, seconds = np.zeros((2, most, len(parts)), dtype=np.int64)
    for at, (first, second) in enumerate(parts):
        firsts[: len(first), at], seconds[: len(second), at] = first, second
    return firsts, seconds


def steps(n_xs: int, n_ys: int) -> int:
    """Cuts looked at in one pricing, about: half the places for upright ones, three times that for level ones."""
    return n_xs * n_ys * (n_xs + 6 * n_ys) // 4


def _thinned(n_xs: int, n_ys: int, most_steps: int) -> tuple[int, int]:
    """Places to keep, taken from the finer side first."""
    n_xs, n_ys = min(n_xs, MOST_PLACES), min(n_ys, MOST_PLACES)
    while steps(n_xs, n_ys) > most_steps and max(n_xs, n_ys) > FEWEST_PLACES:
        n_xs, n_ys = (n_xs * 9 // 10, n_ys) if n_xs > n_ys else (n_xs, n_ys * 9 // 10)
    return n_xs, n_ys
