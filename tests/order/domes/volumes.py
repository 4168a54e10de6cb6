"""Volume of a dome by its curve, and of its blocks and joints as they are laid: apart from one another, so that they
can be held against one another."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from blockrun.order.domes import DomePart, lay_dome
from blockrun.order.domes.courses import Crown, courses
from blockrun.order.domes.frame import Course, Point
from blockrun.order.domes.openings import meets, piece
from blockrun.order.domes.part import DomeOpening
from blockrun.order.domes.pieces import Room, kept_and_filled, places_of
from blockrun.order.domes.profile import Curve
from blockrun.order.domes.rings import bed_joint
from blockrun.order.domes.ways import Setting, limits_of
from blockrun.order.domes.wedge import Fit, fit, gaps_mm
from blockrun.order.shape import Shape
from blockrun.site.moulds import MouldKind

_SLICES = 600
_LAYERS = 4
_GAUSS_AT, _GAUSS_WEIGHT = np.polynomial.legendre.leggauss(12)


@dataclass(frozen=True)
class Volumes:
    """Litres: of the dome by its curve, of blocks as they are laid, of joints, plug and gaps filled with mortar.

    The first is of a round shell, the others of flat-faced blocks; they agree within `tolerance` of the first.
    """

    dome_l: float
    blocks_l: float
    joints_l: float
    tolerance: float


def volumes_of(dome: DomePart, moulds: Sequence[MouldKind] = ()) -> Volumes:
    """Volumes of a dome, and of the blocks, joints and fills that it is laid in."""
    frames, crown, _ = courses(dome)
    rings, below = [], (None, 0.0)
    for course, ring in zip(frames, lay_dome(dome, moulds).courses, strict=True):
        laid, found = ring.setting.laid, fit(course, ring.setting.laid, limits_of(dome, ring.setting.way))
        rings.append(
            _Ring(dome, course, ring.setting, found, ring.joints_rad[0], bed_joint(course, laid.bed_deg, *below))
        )
        below = course, laid.bed_deg
    crown_block_l, crown_joint_l = _crown_l(dome, crown)
    return Volumes(
        _dome_l(dome, crown),
        sum(ring.blocks_l for ring in rings) + crown_block_l,
        sum(ring.joints_l for ring in rings) + crown_joint_l,
        _tolerance([ring.fit for ring in rings], frames, cut=bool(dome.openings)),
    )


@dataclass(frozen=True)
class _Ring:
    dome: DomePart
    course: Course
    setting: Setting
    fit: Fit
    first_rad: float
    bed: Sequence[Point]

    @property
    def _laid(self) -> tuple[DomePart, Course, Setting, Fit, float]:
        return self.dome, self.course, self.setting, self.fit, self.first_rad

    @property
    def blocks_l(self) -> float:
        return self._volume_l(kept_and_filled(*self._laid)[0])

    @property
    def joints_l(self) -> float:
        """As much of the joints of a full ring as openings leave, and gaps that are filled."""
        full_l = _head_joints_l(self.course, self.setting.laid, self.fit, self.dome.joint_mm)
        full_l += _bed_joint_l(self.bed, self.fit)
        openings = [opening for opening in self.dome.openings if meets(self.course, opening)]
        left = [piece(self.course, one.setting.laid, one.middle_rad, openings) for one in places_of(*self._laid)]
        share = sum(one.share for one in left if one) / self.fit.count
        return full_l * share + self._volume_l(kept_and_filled(*self._laid)[1])

    def _volume_l(self, rooms: Sequence[Room]) -> float:
        return sum(one.share * _block_l(self.course, place.setting.laid) for place, one in rooms)


def _dome_l(dome: DomePart, crown: Crown) -> float:
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
    return whole - sum(_opening_l(slices, opening) for opening in dome.openings)


def _block_l(course: Course, laid: Shape) -> float:
    """Volume of a block cut to the height of its course."""
    beds = 2 * course.thickness_mm * math.tan(math.radians(laid.bed_deg))
    return replace(laid, height_mm=course.height_mm + beds).volume_l


def _head_joints_l(course: Course, laid: Shape, found: Fit, joint_mm: float) -> float:
    """Mortar between the blocks of a ring: mean width x mean height x thickness, the usual at a closing piece."""
    widths = gaps_mm(course, laid, found.half_angle_rad)
    closing = found.closing_rad > 0
    total = (found.whole - closing) * sum(widths) / len(widths) + 2 * joint_mm * closing
    height = course.height_mm + course.thickness_mm * math.tan(math.radians(laid.bed_deg))
    return total * height * course.thickness_mm / 1e6


def _bed_joint_l(bed: Sequence[Point], found: Fit) -> float:
    """Mortar under a ring: its section turned about the axis along flat faces.

    Each block takes 2 x tan(a) of the way round at a distance x, so the volume is 2 tan(a) times the moment of the
    section about the axis, added up over the blocks.
    """
    moment = 0.0
    for (x0, y0), (x1, y1) in zip(bed, [*bed[1:], bed[0]], strict=True):
        moment += (x0 + x1) * (x0 * y1 - x1 * y0) / 6
    return 2 * (found.whole * math.tan(found.half_angle_rad) + math.tan(found.closing_rad)) * moment / 1e6


def _crown_l(dome: DomePart, crown: Crown) -> tuple[float, float]:
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


def _tolerance(fits: list[Fit], courses: list[Course], *, cut: bool) -> float:
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


def shell_volume_l(curve: Curve, thickness_mm: float, from_mm: float = 0.0, to_mm: float | None = None) -> float:
    """Volume between the inside curve and the outside face, turned about the axis, in litres.

    Straight out from a point, at a distance u, the radius is r + u cos e and a length ds of the curve has become
    (1 + k u) ds, with e the lean and k the curvature. So

        V = 2 pi integral of [r t + (cos e + r k) t^2/2 + k cos e t^3/3] ds.

    Source
    ------
    Own derivation; tests/published/test_dome_sheet.py holds it against Pappus.
    """
    end = curve.length_mm if to_mm is None else to_mm
    half, t, total = (end - from_mm) / 2, thickness_mm, 0.0
    for at, weight in zip(_GAUSS_AT, _GAUSS_WEIGHT, strict=True):
        here = curve.at(from_mm + half * (1 + float(at)))
        across = here.radius_mm * t + (math.cos(here.lean_rad) + here.radius_mm * here.curvature) * t * t / 2
        total += float(weight) * (across + here.curvature * math.cos(here.lean_rad) * t**3 / 3)
    return 2 * math.pi * half * total / 1e6


def _opening_l(slices: Sequence[tuple[float, float, float]], opening: DomeOpening) -> float:
    """Volume that an opening takes of a shell given in small rings: radius, level and area of section of each.

    Of a ring of radius r it takes 2 asin(w / 2r) where it is at its level; w is the clear width.
    """
    return (
        sum(
            2 * radius * math.asin(min(1.0, opening.width_mm / 2 / radius)) * section
            for radius, level, section in slices
            if opening.sill_mm <= level <= opening.head_mm
        )
        / 1e6
    )
