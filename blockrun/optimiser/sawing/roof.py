"""What no plan of a slab is worth more than, where its grid was thinned and its own best plan does not tell."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from blockrun.optimiser.sawing.grid import MOST_PLACES, MOST_STEPS, Grid, Laid, steps
from blockrun.optimiser.sawing.places import places
from blockrun.optimiser.sawing.plan import Slab


class Roof:
    """Upper bounds on the worth of a slab.

    A thinned grid gets a coarse one beside it, of a unit so large that it need not be thinned: pieces and slab rounded
    down to it. A sum rounded down is no less than its parts rounded down, so every plan of the slab is one there.
    """

    def __init__(self, grid: Grid, slab: Slab, kerf: int, coarse: Grid | None) -> None:
        self._grid, self._coarse = grid, coarse
        self._area = (slab.length + kerf) * (slab.height + kerf)

    @classmethod
    def of(cls, grid: Grid, slab: Slab, kerf: int, *, most_steps: int = MOST_STEPS) -> Roof:
        """The roof of a slab over its grid; the coarse one has no more steps than this."""
        return cls(grid, slab, kerf, None if grid.exact else _coarse(grid.laid, slab, kerf, most_steps))

    def most(self, prices: Sequence[float], found: float) -> int:
        """No plan is worth more at these whole prices, of which the grid's best is worth `found`."""
        if self._grid.exact:
            return int(found)
        by_area = max(Fraction(int(prices[one.item]), one.length * one.height) for one in self._grid.laid) * self._area
        if self._coarse is None:
            return -int(-by_area // 1)
        return min(-int(-by_area // 1), int(self._coarse.value(prices)))


def _coarse(laid: Sequence[Laid], slab: Slab, kerf: int, most_steps: int) -> Grid | None:
    """The finest grid of pieces rounded down that is small enough; None where pieces would round to nothing."""
    smallest = min(min(one.length, one.height) for one in laid)
    unit = 2
    while unit <= smallest:
        rounded = [Laid(one.item, one.length // unit, one.height // unit) for one in laid]
        xs = places((slab.length + kerf) // unit, [one.length for one in rounded])
        ys = places((slab.height + kerf) // unit, [one.height for one in rounded])
        if max(len(xs), len(ys)) <= MOST_PLACES and steps(len(xs), len(ys)) <= most_steps:
            return Grid(xs, ys, 0, rounded, exact=True)
        unit += 1 + unit // 10
    return None
