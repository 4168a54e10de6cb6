"""Measures of a wall that may be meant, and more often are a slip of the pen: each is said, none is refused."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from blockrun.order.said import system_of
from blockrun.order.walls.part import WallPart

HIGHEST_MM: Final = 15_000.0
WIDEST_JOINT_MM: Final = 30.0
SHORTEST_BLOCK_MM: Final = 100.0
"""Beyond these a unit is likely to be wrong (our choice)."""
_INCH_MM: Final = 25.4
_NOMINAL_MM: Final = 4 * _INCH_MM
"""Nominal sizes, which have their joint in them, are multiples of 4 in (common practice, no source)."""


def doubts(part: WallPart, peak_mm: float) -> Iterator[str]:
    """Sentences on measures that are seldom meant.

    Parameters
    ----------
    part : the wall.
    peak_mm : its highest point above the floor.
    """
    length, _, thickness = part.block
    if thickness > length:
        long, thick = part.said(length), part.said(thickness)
        yield f"Blocks are {long} long and {thick} thick: a block is written length x height x thickness."
    if _is_nominal(part):
        actual = " x ".join(part.said(side - part.joint_mm) for side in part.block)
        yield f"Blocks are laid with a joint on top of their sizes: if these have it in them, write {actual}."
    if peak_mm > HIGHEST_MM:
        yield f"The wall is {part.said(peak_mm)} high, over {part.said(HIGHEST_MM)}: look at the unit."
    if part.joint_mm > WIDEST_JOINT_MM:
        yield f"Joints are {part.said(part.joint_mm)} wide, over {part.said(WIDEST_JOINT_MM)}: look at the unit."
    if length < SHORTEST_BLOCK_MM:
        yield f"Blocks are {part.said(length)} long, under {part.said(SHORTEST_BLOCK_MM)}: look at the unit."


def _is_nominal(part: WallPart) -> bool:
    """Whether a block measured in inches has sizes that a joint is commonly part of."""
    steps = [side / _NOMINAL_MM for side in part.block]
    return part.joint_mm > 0 and system_of(*part.block) == "US" and all(abs(one - round(one)) < 1e-6 for one in steps)
