"""How a block of a ring narrows, and how wide the joints are between blocks of any shape.

A ring of n equal blocks leaves each the room between two upright planes through the axis, at plus and minus pi/n to
its middle. A point of the block's middle plane that is x from the axis has x tan(pi/n) to either side. In a course
that leans in by e, going u out through the thickness moves x by u cos e, and going v up the face by -v sin e. So the
half-length is (x0 + u cos e - v sin e) tan(pi/n): its slope through the thickness is tan(pi/n) cos e, up the face
tan(pi/n) sin e. A joint of one width takes the same off everywhere, so the angles stay.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, NamedTuple

from blockrun.order.domes.frame import Course
from blockrun.order.shape import Shape

WIDEST_HALF_ANGLE: Final = math.pi / 6
"""Fewest blocks of a ring are six (our choice): with fewer, the faces are too far from round."""


def end_bevel_rad(half_angle_rad: float, lean_rad: float) -> float:
    """Lean of each end through the thickness: atan(tan(half angle) cos(lean)).

    Parameters
    ----------
    half_angle_rad : pi / n for n equal blocks, 0 to pi/2.
    lean_rad : of the course from upright, 0 to pi/2.

    Source
    ------
    Own derivation, above; tests/order/domes/test_wedge.py holds it against planes through the axis.
    """
    return math.atan(math.tan(half_angle_rad) * math.cos(lean_rad))


def face_taper_rad(half_angle_rad: float, lean_rad: float) -> float:
    """Lean of each end up the face: atan(tan(half angle) sin(lean)); as `end_bevel_rad`."""
    return math.atan(math.tan(half_angle_rad) * math.sin(lean_rad))


class Edges(NamedTuple):
    """The four edge lengths of a block, mm."""

    outside_bottom_mm: float
    outside_top_mm: float
    inside_bottom_mm: float
    inside_top_mm: float


@dataclass(frozen=True)
class Limits:
    """What joints and blocks may be, mm: the usual, thinnest and widest joint, the longest and shortest block."""

    joint_mm: float
    least_mm: float
    most_mm: float
    longest_mm: float
    shortest_mm: float


@dataclass(frozen=True)
class Fit:
    """How blocks of one shape go round a course.

    Parameters
    ----------
    whole : blocks of the whole length.
    half_angle_rad : half of what one of them with its joint takes of the round.
    closing_rad : half of what the closing piece takes; 0 without one.
    """

    whole: int
    half_angle_rad: float
    closing_rad: float = 0.0

    @property
    def count(self) -> int:
        """Blocks in the ring, the closing piece with them."""
        return self.whole + (self.closing_rad > 0)


def edges(course: Course, shape: Shape) -> Edges:
    """Edge lengths of a block of this shape, cut to the height of the course."""
    return Edges(*(_length_mm(course, shape, depth, up) for depth, up in course.corners(math.radians(shape.bed_deg))))


def room(course: Course, half_angle_rad: float, joint_mm: float, bed_deg: float = 0.0) -> Edges:
    """Edge lengths that leave one joint, of the same width everywhere, to either neighbour."""
    less = joint_mm / math.cos(half_angle_rad)
    corners = course.corners(math.radians(bed_deg))
    return Edges(*(2 * course.point(depth, up)[0] * math.tan(half_angle_rad) - less for depth, up in corners))


def gaps_mm(course: Course, shape: Shape, half_angle_rad: float) -> tuple[float, ...]:
    """Width of the head joint at outside bottom, outside top, inside bottom and inside top, square to it."""
    cos, tan = math.cos(half_angle_rad), math.tan(half_angle_rad)
    return tuple(
        cos * (2 * course.point(depth, up)[0] * tan - _length_mm(course, shape, depth, up))
        for depth, up in course.corners(math.radians(shape.bed_deg))
    )


def fit(course: Course, shape: Shape, limits: Limits) -> Fit | None:
    """Blocks of one shape round a course, each joint within the limits; None where that cannot be.

    The joint at a corner is 2 x sin a - L cos a, with x the distance from the axis, L the length there and a the half
    angle. It is g where a = atan(L / 2x) + asin(g / sqrt(4 x^2 + L^2)), and grows with a. So each corner sets the
    half angle a least and a most value, and any between them serves: one that divides the round if there is one,
    else the one nearest to the usual joint, with a closing piece for the rest.
    """
    ends = [
        (course.point(depth, up)[0], _length_mm(course, shape, depth, up))
        for depth, up in course.corners(math.radians(shape.bed_deg))
    ]
    if min(x for x, _ in ends) <= 0 or min(length for _, length in ends) <= 0:
        return None
    least = max(_half_angle(x, length, limits.least_mm) for x, length in ends)
    usual = max(_half_angle(x, length, limits.joint_mm) for x, length in ends)
    most = min(WIDEST_HALF_ANGLE, *(_half_angle(x, length, limits.most_mm) for x, length in ends))
    if least > most:
        return None
    usual = min(usual, most)
    fewest, most_blocks = math.ceil(math.pi / most - 1e-9), math.floor(math.pi / least + 1e-9)
    if fewest <= most_blocks:
        count = min(max(round(math.pi / usual), fewest), most_blocks)
        return Fit(count, math.pi / count)
    return _closed(course, limits, (least, usual, most), most_blocks)


def _closed(course: Course, limits: Limits, half_angles: tuple[float, float, float], whole: int) -> Fit | None:
    """The ring with a closing piece no shorter than the shortest block, at the half angle nearest to the usual."""
    least, usual, most = half_angles
    reach = course.point(0.0, 0.0)[0]
    needed = math.atan((limits.shortest_mm + limits.joint_mm) / (2 * reach))
    for half_angle in (usual, least, most):
        for count in (whole, whole - 1):
            rest = math.pi - count * half_angle
            if needed <= rest <= half_angle:
                return Fit(count, half_angle, rest)
    return None


def _half_angle(x_mm: float, length_mm: float, joint_mm: float) -> float:
    ratio = joint_mm / math.hypot(2 * x_mm, length_mm)
    return math.atan2(length_mm, 2 * x_mm) + math.asin(min(1.0, ratio))


def _length_mm(course: Course, shape: Shape, depth_mm: float, up_mm: float) -> float:
    """Length of the shape at a point of the course; the shape's own up starts at the outside bottom."""
    foot = course.thickness_mm * math.tan(math.radians(shape.bed_deg))
    return shape.length_at_mm(depth_mm, up_mm + foot)
