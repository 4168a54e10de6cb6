"""How the blocks of a course come to their shape, and how wide their joints may be."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.refuse import ROUNDING_MM
from blockrun.order.domes.wedge import Limits
from blockrun.order.shape import Shape


class Way(Enum):
    """How the blocks of a course come to their shape."""

    PLAIN = "plain"
    TAPERED = "tapered"
    SAWN = "sawn"


@dataclass(frozen=True)
class Setting:
    """What the blocks of a course are.

    Parameters
    ----------
    way : plain, tapered by the mould, or sawn.
    laid : the shape that is laid, sawn if need be.
    cast : the shape that the mould casts.
    """

    way: Way
    laid: Shape
    cast: Shape

    @property
    def set_deg(self) -> tuple[float, float, float]:
        """What the mould is set to for tapered blocks, the saw for sawn ones: ends through the thickness, up, beds."""
        return self.laid.bevel_deg, self.laid.taper_deg, self.laid.bed_deg


def limits_of(dome: DomePart, way: Way = Way.PLAIN) -> Limits:
    """Limits of the dome's blocks; joints between tapered blocks go no wider than twice the usual (our choice)."""
    even = max(2 * dome.joint_mm, dome.joint_mm + ROUNDING_MM)
    most = dome.most_joint_mm if way is Way.PLAIN else min(dome.most_joint_mm, even)
    return Limits(dome.joint_mm, dome.least_joint_mm, most, dome.block_length_mm, dome.shortest_mm)


def bed_fits(dome: DomePart, course: Course, bed_deg: float) -> bool:
    """Whether the bed joints, outside, stay within the limits."""
    outside = dome.joint_mm + 2 * dome.thickness_mm * math.tan(course.bed_rad - math.radians(bed_deg))
    return dome.least_joint_mm <= outside <= dome.most_joint_mm
