"""A course made up: what its layers, its caster and its sawyer need to know of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.order.domes.frame import Course, Point
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.pieces import Pieces
from blockrun.order.domes.ways import Setting
from blockrun.order.domes.wedge import Edges, Fit, edges, end_bevel_rad, face_taper_rad, gaps_mm, room

_TIP_MM: Final = 5.0
"""How far off the tip of an arm may be set (our choice)."""


@dataclass(frozen=True)
class Ring:
    """One course of a dome, complete.

    Parameters
    ----------
    course : from 1 at the bottom.
    stem : whether it belongs to the upright ring wall.
    count : blocks in the full ring, before openings are taken out, the closing piece with them.
    laid : blocks cast for it, after openings.
    lean_deg : of the blocks from upright.
    height_mm : of a block up the inside face, as laid.
    inside_radius_mm, outside_radius_mm : of the bottom edges of the two faces, at the middle of a block.
    arm_mm, arm_deg : from the pivot to the top edge of the inside face, at the middle of a block: how long the
        compass arm is, and how far it points above the horizontal (below it where negative).
    edges : the four edge lengths of a block as laid.
    even_deg : leans that leave joints of even width: of an end through the thickness, of an end up the face, of a
        bed. What the mould or the saw is set to is in the setting.
    setting : the shape cast and laid, and the way it comes about.
    head_joint_mm, bed_joint_mm : thinnest and widest of the head joints; inside and outside of the bed below.
    closing : edge lengths of the closing piece; None when the ring closes by its joints.
    joints_rad : azimuths of the head joints, anti-clockwise from above from the line at 0 deg.
    begin_deg : azimuth of the first head joint after which a block is left as it goes round, 0 to 360.
    standing_rad : those of them that no opening takes.
    lined_up : of these, how many stand within a quarter of a block of one in the course below.
    """

    course: int
    stem: bool
    count: int
    laid: int
    lean_deg: float
    height_mm: float
    inside_radius_mm: float
    outside_radius_mm: float
    arm_mm: float
    arm_deg: float
    edges: Edges
    even_deg: tuple[float, float, float]
    setting: Setting
    head_joint_mm: tuple[float, float]
    bed_joint_mm: tuple[float, float]
    closing: Edges | None
    joints_rad: tuple[float, ...]
    begin_deg: float
    standing_rad: tuple[float, ...]
    lined_up: int

    @property
    def is_arm_long(self) -> bool:
        """Whether a tenth of a degree moves the tip of the arm by more than half of a usual joint."""
        return math.radians(0.1) * self.arm_mm > _TIP_MM

    @property
    def arm_angle(self) -> str:
        """How far the arm points above the horizontal, in degrees: to a hundredth where it is long."""
        return f"{self.arm_deg:.{2 if self.is_arm_long else 1}f}"

    @property
    def tip_mm(self) -> float:
        """How high the tip of the arm is above its pivot."""
        return self.arm_mm * math.sin(math.radians(self.arm_deg))


def arm(course: Course, pivot_mm: float) -> tuple[float, float]:
    """Length in mm and angle above the horizontal in degrees of the compass arm of a course.

    The pivot is on the axis at a height above the floor; the arm's tip is the top edge of a block's inside face.
    """
    radius, level = course.top
    return math.hypot(radius, level - pivot_mm), math.degrees(math.atan2(level - pivot_mm, radius))


def bed_joint(course: Course, bed_deg: float, below: Course | None, below_bed_deg: float) -> tuple[Point, ...]:
    """The bed joint under a course, in the section: inside below, outside below, outside above, inside above.

    Under the first course it is what is between the level foundation and the block.
    """
    inside_above, outside_above, *_ = course.outline(math.radians(bed_deg))
    if below is None:
        radius = course.bottom[0]
        return (radius, 0.0), (radius + course.thickness_mm, 0.0), outside_above, inside_above
    _, _, outside_below, inside_below = below.outline(math.radians(below_bed_deg))
    return inside_below, outside_below, outside_above, inside_above


def ring(
    dome: DomePart,
    course: Course,
    setting: Setting,
    found: Fit,
    kept: Pieces,
    *,
    bed: Sequence[Point],
    joints_rad: tuple[float, ...],
    standing_rad: tuple[float, ...],
    lined_up: int,
) -> Ring:
    """Put together what is known of a course."""
    laid, half_angle = setting.laid, found.half_angle_rad
    gaps = gaps_mm(course, laid, half_angle)
    length, angle = arm(course, dome.pivot_height_mm)
    return Ring(
        course=course.number,
        stem=course.lean_rad == 0,
        count=found.count,
        laid=len(kept.laid),
        lean_deg=math.degrees(course.lean_rad),
        height_mm=course.height_mm,
        inside_radius_mm=course.bottom[0],
        outside_radius_mm=course.point(0.0, 0.0)[0],
        arm_mm=length,
        arm_deg=angle,
        edges=edges(course, laid),
        even_deg=(
            math.degrees(end_bevel_rad(half_angle, course.lean_rad)),
            math.degrees(face_taper_rad(half_angle, course.lean_rad)),
            math.degrees(course.bed_rad),
        ),
        setting=setting,
        head_joint_mm=(min(gaps), max(gaps)),
        bed_joint_mm=(math.dist(bed[0], bed[3]), math.dist(bed[1], bed[2])),
        closing=room(course, found.closing_rad, dome.joint_mm, laid.bed_deg) if found.closing_rad else None,
        joints_rad=joints_rad,
        begin_deg=math.degrees(kept.begin_rad),
        standing_rad=standing_rad,
        lined_up=lined_up,
    )
