"""Walls that tests lay: one of whole blocks by whole courses, and a house of whole and half blocks."""

from __future__ import annotations

from blockrun.order.laid import Laid
from blockrun.order.walls import Opening, Run, WallLayout, WallPart


def wall(**changes: object) -> WallPart:
    """6.09 m by 3.1 m: ten whole blocks by ten whole courses."""
    given = {
        "name": "north",
        "length_mm": 6090,
        "height_mm": 3100,
        "block": (600, 300, 200),
        "joint_mm": 10,
        "bond": "half",
    }
    return WallPart(**{**given, **changes})


def house(*, height: float = 2520, **changes: object) -> WallPart:
    """5.24 m by 3.56 m outside, of blocks twice as long as they are thick: whole and half blocks alone."""
    runs = tuple(
        Run(name=name, length_mm=length) for name, length in zip("abcd", (5240, 3560, 5240, 3560), strict=True)
    )
    given = {
        "name": "house",
        "outline": runs,
        "height_mm": height,
        "block": (410, 200, 200),
        "joint_mm": 10,
        "bond": "half",
    }
    return WallPart(**{**given, **changes})


def course(layout: WallLayout, number: int, face: int = 1) -> list[Laid]:
    return [block for block in layout.blocks if (block.course, block.face) == (number, face)]


def lengths(blocks: list[Laid]) -> list[float]:
    return [round(block.corners[1][0] - block.corners[0][0], 3) for block in blocks]


def hole(**changes: float | str) -> Opening:
    """A door in the module of `wall`, seven courses high."""
    given = {"name": "door", "from_mm": 1220, "sill_mm": 0, "width_mm": 1200, "height_mm": 2180}
    return Opening.model_validate({**given, **changes})
