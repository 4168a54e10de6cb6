"""How long domes take to lay, for growing widths: ``python tests/bench/domes.py``.

Each dome is a hemisphere of blocks of 400 x 200 x 200 mm on a stem of 2.1 m, with a door and three windows, laid for
plain moulds with stop-ends. Blocks grow with the square of the width; what a block takes should not grow.
"""

from __future__ import annotations

import resource
import sys
import time

from blockrun.order.domes import DomeOpening, DomePart, lay_dome
from blockrun.site.moulds import MouldKind

WIDTHS_M = (2, 3, 4, 6, 8, 12, 16, 20)
MOULD = MouldKind.model_validate(
    {
        "kind": "gang",
        "count": 1,
        "cavities": 4,
        "cavity": "600 x 200 x 200 mm",
        "stop_ends": True,
        "strip_time": "9 min",
        "clean_time": "9 min",
    }
)


def dome(width_m: float) -> DomePart:
    """A dome so wide, with a door and windows that fit the smallest."""
    door = DomeOpening(name="door", width_mm=600, height_mm=1900)
    windows = (
        DomeOpening(name=f"window {at}", at_deg=at, sill_mm=900, width_mm=400, height_mm=500) for at in (90, 180, 270)
    )
    return DomePart(
        name=f"{width_m} m",
        inside_diameter_mm=1000 * width_m,
        stem_mm=2100,
        thickness_mm=200,
        course_mm=200,
        block_length_mm=400,
        joint_mm=10,
        openings=(door, *windows),
    )


def main() -> None:
    """Lay each dome and print its blocks, seconds, microseconds a block, and both as ratios to the one before."""
    before: tuple[int, float] | None = None
    for width_m in WIDTHS_M:
        part = dome(width_m)
        start = time.process_time()
        n_blocks = len(lay_dome(part, [MOULD]).blocks)
        took = time.process_time() - start
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        ratios = f", blocks x {n_blocks / before[0]:.2f}, time x {took / before[1]:.2f}" if before else ""
        sys.stdout.write(
            f"{width_m:3} m {n_blocks:6} blocks {took:6.2f} s, {took / n_blocks * 1e6:4.0f} us a block,"
            f" {memory:4.0f} MB{ratios}\n"
        )
        before = n_blocks, took


if __name__ == "__main__":
    main()
