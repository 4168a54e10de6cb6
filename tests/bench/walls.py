"""How long walls take to lay, for growing sizes: ``python tests/bench/walls.py``.

Each wall is 31.5 m long and 15 courses high and has ten openings; the last line is 20 walls with 200 openings and
some 20,000 blocks. What a block takes should stay the same, the first line apart, which fills the memory of rows laid.
"""

from __future__ import annotations

import resource
import sys
import time

from blockrun.order.walls import Opening, WallPart, lay_wall


def wall(number: int, n_courses: int) -> WallPart:
    """A wall with ten openings whose places depend on its number."""
    openings = tuple(
        Opening(
            name=f"o{index}",
            from_mm=1000 + 3000 * index + 37 * number,
            sill_mm=900 if index % 3 else 0,
            width_mm=900 + 50 * (index % 4),
            height_mm=1200,
        )
        for index in range(10)
    )
    return WallPart(
        name=f"wall {number}",
        length_mm=31_500,
        height_mm=210 * n_courses,
        block=(400, 200, 200),
        joint_mm=10,
        bond="half",
        openings=openings,
    )


def main() -> None:
    """Lay 1, 2, 5, 10 and 20 walls and print blocks, seconds and microseconds a block."""
    for n_walls in (1, 2, 5, 10, 20):
        parts = [wall(number, 15) for number in range(n_walls)]
        start = time.perf_counter()
        n_blocks = sum(len(lay_wall(part).blocks) for part in parts)
        took = time.perf_counter() - start
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        each = took / n_blocks * 1e6
        sys.stdout.write(
            f"{n_walls:3} walls {n_blocks:6} blocks {took:6.2f} s, {each:4.0f} us a block, {memory:4.0f} MB\n"
        )


if __name__ == "__main__":
    main()
