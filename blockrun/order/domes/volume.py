"""Volumes of a dome: of the whole, and of the blocks and joints that must add up to it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from blockrun.order.domes.courses import Crown
from blockrun.order.domes.frame import Course, Point
from blockrun.order.domes.openings import opening_volume_l
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.profile import shell_volume_l
from blockrun.order.domes.wedge import Fit, gaps_mm
from blockrun.order.shape import Shape

_SLICES = 600
_LAYERS = 4


@dataclass(frozen=True)
class Volumes:
    """Litres: of the dome by its curve, of blocks as they are laid, of joints, plug and gaps filled with mortar.

    The first is of a round shell, the others of flat-faced blocks; they agree within `tolerance` of the first.
    """

    dome_l: float
    blocks_l: float
    joints_l: float
    tolerance: float


def dome_volume_l(dome: DomePart, crown: Crown) -> float:
    """Volume of stem and shell with their openings out: of the round solid, not of its blocks.

    Where the curve springs at a lean, the wedge between the level top of the stem and the first bed counts too: a
    triangle with two sides of the thickness, turned about the axis.
    """
    curve, thick, radius = dome.curve, dome.thickness_mm, dome.radius_mm
    end = curve.length_mm - (crown.from_crown_mm if dome.crown == "eye" else 0.0)
    stem = math.pi * thick * (2 * radius + thick) * dome.stem_mm / 1e6
    lean = curve.at(0.0).lean_rad
    centre = radius + thick * (1 + math.cos(lean)) / 3
    wedge = 2 * math.pi * centre * thick * thick * math.sin(lean) / 2 / 1e6
    whole = stem + wedge + shell_volume_l(curve, thick, 0.0, end)
    slices = list(_slices(dome, end)) if dome.openings else []
    return whole - sum(opening_volume_l(slices, opening) for opening in dome.openings)


def block_volume_l(course: Course, laid: Shape) -> float:
    """Volume of a block cut to the height of its course."""
    beds = 2 * course.thickness_mm * math.tan(math.radians(laid.bed_deg))
    return replace(laid, height_mm=course.height_mm + beds).volume_l


def head_joints_l(course: Course, laid: Shape, found: Fit, joint_mm: float) -> float:
    """Mortar between the blocks of a ring: mean width x mean height x thickness, the usual at a closing piece."""
    widths = gaps_mm(course, laid, found.half_angle_rad)
    closing = found.closing_rad > 0
    total = (found.whole - closing) * sum(widths) / len(widths) + 2 * joint_mm * closing
    height = course.height_mm + course.thickness_mm * math.tan(math.radians(laid.bed_deg))
    return total * height * course.thickness_mm / 1e6


def bed_joint_l(bed: Sequence[Point], found: Fit) -> float:
    """Mortar under a ring: its section turned about the axis along flat faces.

    Each block takes 2 x tan(a) of the way round at a distance x, so the volume is 2 tan(a) times the moment of the
    section about the axis, added up over the blocks.
    """
    moment = 0.0
    for (x0, y0), (x1, y1) in zip(bed, [*bed[1:], bed[0]], strict=True):
        moment += (x0 + x1) * (x0 * y1 - x1 * y0) / 6
    return 2 * (found.whole * math.tan(found.half_angle_rad) + math.tan(found.closing_rad)) * moment / 1e6


def crown_l(dome: DomePart, crown: Crown) -> tuple[float, float]:
    """The crown block, and the joint round it or the plug: cones with their tops off."""
    if dome.crown == "eye":
        return 0.0, 0.0
    thick = dome.thickness_mm
    inner, outer = crown.inside_radius_mm, crown.outside_radius_mm
    edge = crown.edge_radius_mm
    plug = _frustum_l(inner, outer, thick)
    if dome.crown == "ring":
        return 0.0, plug
    return plug, _frustum_l(edge, edge + outer - inner, thick) - plug


def tolerance_of(fits: list[Fit], courses: list[Course], *, cut: bool) -> float:
    """How far blocks and joints may be from the round solid, as a share of it: our bound, tested.

    A flat face of half angle a instead of a round one adds tan(a)/a - 1, about a^2/3, at most; a straight face up a
    curve that turns by b takes about b^2/8, the rise of its arc; a half per cent is for the crown, one and a half for
    blocks that openings cut. Courses are weighed by their own volumes.
    """
    weights = [course.height_mm * (course.bottom[0] + course.top[0]) for course in courses]
    shares = [
        max(math.tan(found.half_angle_rad) / found.half_angle_rad - 1, (2 * course.bed_rad) ** 2 / 8)
        for found, course in zip(fits, courses, strict=True)
    ]
    return 0.005 + 0.015 * cut + sum(w * share for w, share in zip(weights, shares, strict=True)) / sum(weights)


def _frustum_l(low_mm: float, high_mm: float, thick_mm: float) -> float:
    return math.pi * thick_mm / 3 * (low_mm**2 + low_mm * high_mm + high_mm**2) / 1e6


def _slices(dome: DomePart, end_mm: float) -> Iterator[tuple[float, float, float]]:
    """Small rings of stem and shell: radius, level and area of section."""
    layer = dome.thickness_mm / _LAYERS
    outs = [layer * (number + 0.5) for number in range(_LAYERS)]
    high = dome.stem_mm / _SLICES
    for number in range(_SLICES if high else 0):
        yield from ((dome.radius_mm + out, high * (number + 0.5), high * layer) for out in outs)
    step = end_mm / _SLICES
    for number in range(_SLICES):
        here = dome.curve.at(step * (number + 0.5))
        for out in outs:
            radius, level = here.outside(out)
            yield radius, dome.stem_mm + level, step * (1 + here.curvature * out) * layer
