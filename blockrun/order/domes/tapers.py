"""Blocks tapered for their own course alone: by a mould that is yet to be made, or by a saw."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from blockrun.order.domes.frame import Course
from blockrun.order.domes.inserts import Inserts
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.ways import Setting, Way, bed_fits, limits_of
from blockrun.order.domes.wedge import Limits, end_bevel_rad, face_taper_rad, gaps_mm
from blockrun.order.shape import Shape

FEWEST: Final = 6
"""Blocks in any ring; see `wedge.WIDEST_HALF_ANGLE`."""
_SAWN_STEP_MM: Final = 10.0
"""Blocks to be sawn are cast to steps of this length (our choice), so that courses share them."""


def exact(dome: DomePart, course: Course, bed_deg: float, longest_mm: float) -> tuple[int, Shape]:
    """Blocks tapered for their own course, leans to a tenth of a degree and lengths to a millimetre."""
    limits = replace(limits_of(dome, Way.TAPERED), longest_mm=longest_mm)
    reach = course.point(*course.corners(math.radians(bed_deg))[0])[0]
    count = max(FEWEST, math.floor(math.pi / _half_angle_of(reach, limits)))
    while True:
        half_angle = math.pi / count
        bevel = math.degrees(end_bevel_rad(half_angle, course.lean_rad))
        taper = math.degrees(face_taper_rad(half_angle, course.lean_rad))
        shape = _box(dome, course, 2 * reach * math.tan(half_angle), bed_deg, _set(dome, bevel), _set(dome, taper))
        spare = min(gaps_mm(course, shape, half_angle)) - limits.joint_mm
        shape = replace(shape, length_mm=math.floor(shape.length_mm + spare / math.cos(half_angle) + 1e-6))
        if shape.length_mm <= longest_mm:
            return count, shape
        count += 1


def sawn(dome: DomePart, course: Course, moulds: Sequence[Inserts]) -> Setting:
    """Exact tapers sawn out of a plain block, as long as moulds and limits allow."""
    bed = 0.0 if bed_fits(dome, course, 0.0) else needed_bed_deg(dome, course)
    plain = [mould for mould in moulds if mould.casts_plain] or list(moulds)
    if not plain:
        laid = exact(dome, course, bed, dome.block_length_mm)[1]
        return Setting(Way.SAWN, laid, Shape(_to_saw_mm(laid, dome.block_length_mm), laid.height_mm, dome.thickness_mm))
    mould = max(plain, key=lambda one: (min(one.cavity_mm[0], dome.block_length_mm), -one.cavity_mm[0]))
    length, height, thickness = mould.cavity_mm
    longest = min(dome.block_length_mm, length)
    laid = exact(dome, course, bed, longest)[1]
    cast = _to_saw_mm(laid, longest) if mould.stop_ends else length
    return Setting(Way.SAWN, laid, Shape(cast, height if not bed else laid.height_mm, thickness))


def needed_bed_deg(dome: DomePart, course: Course) -> float:
    """The lean of the beds that leaves bed joints of even width, as it is set."""
    return _set(dome, math.degrees(course.bed_rad))


def _to_saw_mm(laid: Shape, longest_mm: float) -> float:
    return min(math.ceil(laid.length_mm / _SAWN_STEP_MM) * _SAWN_STEP_MM, longest_mm)


def _set(dome: DomePart, angle_deg: float) -> float:
    """An angle as it is set: to a tenth of a degree, in blocks over 800 mm of height and thickness to a hundredth."""
    return round(angle_deg, 1 if dome.course_mm + dome.thickness_mm <= 800 else 2)


def _half_angle_of(reach_mm: float, limits: Limits) -> float:
    """Half angle of the longest block and its joint."""
    return math.atan(limits.longest_mm / (2 * reach_mm)) + math.asin(
        limits.joint_mm / math.hypot(2 * reach_mm, limits.longest_mm)
    )


def _box(dome: DomePart, course: Course, length: float, bed: float, bevel: float, taper: float) -> Shape:
    high = course.cast_height_mm + 2 * dome.thickness_mm * math.tan(math.radians(bed))
    return Shape(length, round(high, 1), dome.thickness_mm, bevel, taper, bed)
