"""A course in the section of a dome: where its blocks stand, how they lean, how far each point is from the axis."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

Point = tuple[float, float]
"""Distance from the axis and height above the floor, mm."""


@dataclass(frozen=True)
class Course:
    """The place of a ring of blocks in the section.

    A block's inside face runs straight from its bottom to its top edge, both on the inside curve; it is as thick as
    the dome, square to that face. A point of it is told by `depth`, mm from the outside face, and `up`, mm from the
    bottom edge of the inside face, along the face.

    Parameters
    ----------
    number : from 1 at the bottom.
    bottom, top : the edges of the inside face.
    bed_rad : half of what the curve turns from the middle of the joint below to that of the joint above.
    thickness_mm : of the block.
    cast_height_mm : height of the block as cast, inside; more than its own where it is cut lower.
    height_mm : height of the block as laid, inside.
    from_crown_mm : along the curve and down the stem, of the bottom and of the top edge.
    """

    number: int
    bottom: Point
    top: Point
    bed_rad: float
    thickness_mm: float
    cast_height_mm: float
    height_mm: float
    from_crown_mm: tuple[float, float]

    @cached_property
    def lean_rad(self) -> float:
        """How far the block leans in from upright: 0 in the stem, near pi/2 at the crown."""
        return math.atan2(self.bottom[0] - self.top[0], self.top[1] - self.bottom[1])

    @cached_property
    def lean(self) -> tuple[float, float]:
        """Cosine and sine of the lean."""
        return math.cos(self.lean_rad), math.sin(self.lean_rad)

    def point(self, depth_mm: float, up_mm: float) -> Point:
        """A point of the block in the section."""
        out, (cos, sin) = self.thickness_mm - depth_mm, self.lean
        return (self.bottom[0] + out * cos - up_mm * sin, self.bottom[1] + out * sin + up_mm * cos)

    def corners(self, bed_rad: float = 0.0) -> tuple[tuple[float, float], ...]:
        """Depth and up of the outside bottom, outside top, inside bottom and inside top, with beds leaning so."""
        lean = self.thickness_mm * math.tan(bed_rad)
        thick, high = self.thickness_mm, self.height_mm
        return (0.0, -lean), (0.0, high + lean), (thick, 0.0), (thick, high)

    def outline(self, bed_rad: float = 0.0) -> tuple[Point, Point, Point, Point]:
        """The block in the section: inside bottom, outside bottom, outside top, inside top."""
        outside_bottom, outside_top, inside_bottom, inside_top = (
            self.point(depth, up) for depth, up in self.corners(bed_rad)
        )
        return inside_bottom, outside_bottom, outside_top, inside_top
