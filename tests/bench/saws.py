"""How long saw plans take and what they waste, for growing orders: ``python tests/bench/saws.py``.

A slab of 1200 x 600 mm is sawn with a blade of 3.5 mm; sizes are whole multiples of 5 mm, as blocks are. Against it
stands the simple way: shelves from edge to edge, highest blocks first, each block on the first shelf and slab where it
fits, lying as in the list. The last lines have sizes by the tenth of a millimetre, for which grids are thinned.
"""

from __future__ import annotations

import random
import sys
import time
from dataclasses import dataclass, field

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.plan import Slab
from blockrun.optimiser.sawing.solve import saw

SLAB, KERF = Slab(12_000, 6_000), 35
EFFORT = Effort(work=5.0, stop=lambda: False)
Size = tuple[int, int]


@dataclass
class Shelf:
    """A strip over the whole length of a slab."""

    height: int
    used: int = 0


@dataclass
class Shelved:
    """A slab with shelves."""

    shelves: list[Shelf] = field(default_factory=list)

    def takes(self, size: Size) -> bool:
        """Put a block on the first shelf with room, or on a new one; false where there is none."""
        length, height = size
        for shelf in self.shelves:
            if height <= shelf.height and shelf.used + length <= SLAB.length:
                shelf.used += length + KERF
                return True
        if sum(shelf.height + KERF for shelf in self.shelves) + height > SLAB.height:
            return False
        self.shelves.append(Shelf(height, length + KERF))
        return True


def by_shelves(sizes: list[Size], demand: list[int]) -> int:
    """Slabs by the simple way."""
    slabs: list[Shelved] = []
    blocks = [size for size, count in zip(sizes, demand, strict=True) for _ in range(count)]
    for block in sorted(blocks, key=lambda size: (-size[1], -size[0])):
        if not any(slab.takes(block) for slab in slabs):
            slabs.append(Shelved())
            slabs[-1].takes(block)
    return len(slabs)


def order(n_items: int, n_each: int, step: int) -> tuple[list[Size], list[int]]:
    """Sizes and how many of each; the same whenever asked."""
    chance = random.Random(f"{n_items} {n_each} {step}")
    sizes = [(chance.randrange(1500, 6000, step), chance.randrange(1000, 2500, step)) for _ in range(n_items)]
    return sizes, [chance.randrange(1, 2 * n_each) for _ in sizes]


def main() -> None:
    """Print a line for each order."""
    sys.stdout.write("items blocks  shelves waste  saw plans waste  no fewer than  different  seconds\n")
    for step in (50, 1):
        for n_items in (2, 5, 10, 20, 40):
            for n_each in (3, 30, 300):
                sizes, demand = order(n_items, n_each, step)
                start = time.perf_counter()
                sawn = saw([SLAB], [KERF], sizes, demand, EFFORT)
                took = time.perf_counter() - start
                area = sum(a * b * count for (a, b), count in zip(sizes, demand, strict=True)) / SLAB.area
                simple, n_slabs = by_shelves(sizes, demand), sawn.cost // SLAB.area
                sys.stdout.write(
                    f"{n_items:5} {sum(demand):6} {simple:8} {1 - area / simple:5.0%} {n_slabs:10} "
                    f"{1 - area / n_slabs:5.0%} {sawn.bound / SLAB.area:14.0f} {len(sawn.plans):10} {took:8.2f}\n"
                )
        sys.stdout.write("\n")


if __name__ == "__main__":
    main()
