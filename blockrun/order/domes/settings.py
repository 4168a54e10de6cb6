"""What the moulds are set to for each course: plain, tapered or sawn blocks, and courses that share a setting."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

import numpy as np

from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.refuse import ROUNDING_MM
from blockrun.order.domes.wedge import Limits, end_bevel_rad, face_taper_rad, fit, gaps_mm
from blockrun.order.shape import Shape
from blockrun.site.moulds import MouldKind

FEWEST: Final = 6
"""Blocks in any ring; see `wedge.WIDEST_HALF_ANGLE`."""
MORE_TO_SHARE: Final = 0.1
"""A course takes a neighbour's setting when it then needs no more than a tenth more blocks (our choice)."""
_SAWN_STEP_MM: Final = 10.0
"""Blocks to be sawn are cast to steps of this length (our choice), so that courses share them."""
_THINNEST_EDGE_MM: Final = 20.0
"""Shortest edge of a tapered block (our choice): a thinner one breaks off."""
_SLACK_MM: Final = 0.5


class Way(Enum):
    """How the blocks of a course come to their shape."""

    PLAIN = "plain"
    TAPERED = "tapered"
    SAWN = "sawn"


@dataclass(frozen=True)
class Inserts:
    """What a mould can be set to.

    Parameters
    ----------
    cavity_mm : length, height and thickness.
    stop_ends : whether it casts shorter blocks too.
    bevels_deg, tapers_deg, beds_deg : leans of ends through the thickness, of ends up the face, and of beds.
    """

    cavity_mm: tuple[float, float, float]
    stop_ends: bool = False
    bevels_deg: tuple[float, ...] = (0.0,)
    tapers_deg: tuple[float, ...] = (0.0,)
    beds_deg: tuple[float, ...] = (0.0,)

    @property
    def casts_plain(self) -> bool:
        """Whether it casts blocks without any lean."""
        return all(0.0 in angles for angles in (self.bevels_deg, self.tapers_deg, self.beds_deg))


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


def inserts_of(kind: MouldKind) -> Inserts:
    """What the moulds of a kind can be set to; leans outward are of no use in a ring."""
    bevels, tapers, beds = (
        tuple(angle for angle in angles if angle >= 0)
        for angles in (kind.wedges_deg, kind.tapers_deg, kind.bed_wedges_deg)
    )
    return Inserts(kind.cavity, kind.stop_ends, bevels, tapers, beds)


def usable(dome: DomePart, moulds: Sequence[Inserts]) -> list[Inserts]:
    """The moulds whose cavity has the thickness of the dome and gives blocks of its course."""
    return [mould for mould in moulds if abs(mould.cavity_mm[2] - dome.thickness_mm) < _SLACK_MM and _beds(dome, mould)]


def settings(dome: DomePart, courses: Sequence[Course], moulds: Sequence[Inserts]) -> list[Setting]:
    """A setting for each course: the best of its own, then shared with neighbours where the limits allow.

    Parameters
    ----------
    dome, courses : from the bottom up.
    moulds : what there is to cast with; none for moulds yet to be made, which may have any angle.
    """
    return _shared(dome, courses, [_own(dome, course, moulds) for course in courses])


def _own(dome: DomePart, course: Course, moulds: Sequence[Inserts]) -> Setting:
    """The setting with the fewest blocks, and of those the one with the fewest angles; sawn where none will do."""
    fitting = usable(dome, moulds)
    found = list(_from_moulds(dome, course, fitting) if fitting else _from_any_mould(dome, course))
    if found:
        return min(found, key=lambda option: (option[0], _angles(option[1]), -option[1].length_mm))[2]
    return _sawn(dome, course, fitting)


Option = tuple[int, Shape, Setting]
"""Blocks in the ring, the shape, the setting."""


def _from_any_mould(dome: DomePart, course: Course) -> Iterator[Option]:
    """Plain blocks and exact tapers, from moulds that are yet to be made."""
    bed = _bed_deg(dome, course)
    if dome.blocks != "tapered" and not bed:
        cavity = (dome.block_length_mm, dome.course_mm, dome.thickness_mm)
        yield from _options(dome, course, Inserts(cavity, stop_ends=True), (0.0, 0.0, 0.0))
    if dome.blocks != "plain":
        count, shape = _exact(dome, course, bed, dome.block_length_mm)
        if _thinnest_mm(shape) >= _THINNEST_EDGE_MM:
            yield count, shape, _cast_so(shape)


def _from_moulds(dome: DomePart, course: Course, moulds: Sequence[Inserts]) -> Iterator[Option]:
    """All that the inserts of the moulds can cast within the limits."""
    for mould in moulds:
        beds = [bed for bed in _beds(dome, mould) if _bed_fits(dome, course, bed)]
        for bevel, taper, bed in itertools.product(mould.bevels_deg, mould.tapers_deg, beds):
            angles = (bevel, taper, bed)
            if (dome.blocks == "plain" and any(angles)) or (dome.blocks == "tapered" and not (bevel or taper)):
                continue
            yield from _options(dome, course, mould, angles)


def _options(dome: DomePart, course: Course, mould: Inserts, angles: tuple[float, float, float]) -> Iterator[Option]:
    """The longest block of a mould with these leans that goes round within the limits, if there is one."""
    limits = limits_of(dome, Way.TAPERED if any(angles[:2]) else Way.PLAIN)
    length, height, thickness = mould.cavity_mm
    whole = Shape(length, height, thickness, *angles)
    if mould.stop_ends:
        found = _longest(course, replace(whole, length_mm=min(length, limits.longest_mm)), limits)
    else:
        fits = fit(course, whole, limits) if length <= limits.longest_mm + _SLACK_MM else None
        found = (fits.count, whole) if fits else None
    if found and _thinnest_mm(found[1]) >= _THINNEST_EDGE_MM:
        yield *found, _cast_so(found[1])


def _thinnest_mm(shape: Shape) -> float:
    """The shortest edge of a block as cast: inside at the top."""
    return shape.length_at_mm(shape.thickness_mm, shape.height_mm)


def _longest(course: Course, box: Shape, limits: Limits) -> tuple[int, Shape] | None:
    """The fewest blocks no longer than the box, with its leans, whose joints stay within the limits.

    For each count the length is the most that leaves the usual joint at the tightest corner.
    """
    reach = course.point(0.0, 0.0)[0]
    most = int(math.pi / math.atan((limits.shortest_mm + limits.joint_mm) / (2 * reach))) + 1
    half_angle = math.pi / np.arange(FEWEST, max(most, FEWEST) + 1)
    corners = course.corners(math.radians(box.bed_deg))
    foot = -corners[0][1]
    x = np.array([[course.point(depth, up)[0]] for depth, up in corners])
    less = np.array([[box.length_mm - box.length_at_mm(depth, up + foot)] for depth, up in corners])
    open_mm = 2 * x * np.tan(half_angle)
    length = np.floor(np.min(open_mm - limits.joint_mm / np.cos(half_angle) + less, axis=0) + 1e-6)
    length = np.where(length > box.length_mm, np.minimum(length, box.length_mm), length)
    widest = np.max(np.cos(half_angle) * (open_mm - length + less), axis=0)
    thinnest = length - np.max(less)
    good = (widest <= limits.most_mm) & (length >= limits.shortest_mm) & (thinnest >= _THINNEST_EDGE_MM)
    if not good.any():
        return None
    first = int(np.argmax(good))
    return FEWEST + first, replace(box, length_mm=float(length[first]))


def _exact(dome: DomePart, course: Course, bed_deg: float, longest_mm: float) -> tuple[int, Shape]:
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


def _set(dome: DomePart, angle_deg: float) -> float:
    """An angle as it is set: to a tenth of a degree, in blocks over 800 mm of height and thickness to a hundredth."""
    return round(angle_deg, 1 if dome.course_mm + dome.thickness_mm <= 800 else 2)


def _half_angle_of(reach_mm: float, limits: Limits) -> float:
    """Half angle of the longest block and its joint."""
    return math.atan(limits.longest_mm / (2 * reach_mm)) + math.asin(
        limits.joint_mm / math.hypot(2 * reach_mm, limits.longest_mm)
    )


def _sawn(dome: DomePart, course: Course, moulds: Sequence[Inserts]) -> Setting:
    """Exact tapers sawn out of a plain block, as long as moulds and limits allow."""
    bed = 0.0 if _bed_fits(dome, course, 0.0) else _needed_bed_deg(dome, course)
    plain = [mould for mould in moulds if mould.casts_plain] or list(moulds)
    if not plain:
        laid = _exact(dome, course, bed, dome.block_length_mm)[1]
        return Setting(Way.SAWN, laid, Shape(_to_saw_mm(laid, dome.block_length_mm), laid.height_mm, dome.thickness_mm))
    mould = max(plain, key=lambda one: (min(one.cavity_mm[0], dome.block_length_mm), -one.cavity_mm[0]))
    length, height, thickness = mould.cavity_mm
    longest = min(dome.block_length_mm, length)
    laid = _exact(dome, course, bed, longest)[1]
    cast = _to_saw_mm(laid, longest) if mould.stop_ends else length
    return Setting(Way.SAWN, laid, Shape(cast, height if not bed else laid.height_mm, thickness))


def _to_saw_mm(laid: Shape, longest_mm: float) -> float:
    return min(math.ceil(laid.length_mm / _SAWN_STEP_MM) * _SAWN_STEP_MM, longest_mm)


def _box(dome: DomePart, course: Course, length: float, bed: float, bevel: float, taper: float) -> Shape:
    high = course.cast_height_mm + 2 * dome.thickness_mm * math.tan(math.radians(bed))
    return Shape(length, round(high, 1), dome.thickness_mm, bevel, taper, bed)


def _cast_so(shape: Shape) -> Setting:
    return Setting(Way.TAPERED if _angles(shape) else Way.PLAIN, shape, shape)


def _angles(shape: Shape) -> int:
    """How many of its leans are not nought."""
    return sum(1 for angle in (shape.bevel_deg, shape.taper_deg, shape.bed_deg) if angle)


def _beds(dome: DomePart, mould: Inserts) -> list[float]:
    """Bed leans with which the cavity gives blocks of the dome's course, inside."""
    return [
        bed
        for bed in mould.beds_deg
        if abs(mould.cavity_mm[1] - 2 * dome.thickness_mm * math.tan(math.radians(bed)) - dome.course_mm) < _SLACK_MM
    ]


def _bed_deg(dome: DomePart, course: Course) -> float:
    """No lean of the beds where mortar can make it up, else the lean that is needed."""
    return 0.0 if _bed_fits(dome, course, 0.0) and dome.blocks != "tapered" else _needed_bed_deg(dome, course)


def _needed_bed_deg(dome: DomePart, course: Course) -> float:
    return _set(dome, math.degrees(course.bed_rad))


def _bed_fits(dome: DomePart, course: Course, bed_deg: float) -> bool:
    """Whether the bed joints, outside, stay within the limits."""
    outside = dome.joint_mm + 2 * dome.thickness_mm * math.tan(course.bed_rad - math.radians(bed_deg))
    return dome.least_joint_mm <= outside <= dome.most_joint_mm


def _shared(dome: DomePart, courses: Sequence[Course], own: Sequence[Setting]) -> list[Setting]:
    """Settings of runs of courses, each run as long as one of its own settings serves it all."""
    found: list[Setting] = []
    while len(found) < len(courses):
        start, end, kept = len(found), len(found) + 1, own[len(found)]
        while end < len(courses) and own[end].way is own[start].way is not Way.SAWN:
            if own[end] == kept:
                end += 1
                continue
            wider = _serving(dome, courses[start : end + 1], own[start : end + 1])
            if wider is None:
                break
            kept, end = wider, end + 1
        found += [kept] * (end - start)
    return found


def _serving(dome: DomePart, courses: Sequence[Course], own: Sequence[Setting]) -> Setting | None:
    """The setting among those of some courses that serves them all with the fewest blocks, if any does."""
    serving: list[tuple[int, int, Setting]] = []
    limits = limits_of(dome, own[0].way)
    least = [_count(course, setting, limits) for course, setting in zip(courses, own, strict=True)]
    for place, setting in enumerate(own):
        if setting in own[:place]:
            continue
        counts = [_count(course, setting, limits) for course in courses]
        enough = all(0 < n <= most + max(1, MORE_TO_SHARE * most) for n, most in zip(counts, least, strict=True))
        beds = all(_bed_fits(dome, course, setting.laid.bed_deg) for course in courses)
        if enough and beds:
            serving.append((sum(counts), place, setting))
    return min(serving)[2] if serving else None


def _count(course: Course, setting: Setting, limits: Limits) -> int:
    """Blocks of this setting that close the course by their joints alone; 0 where they do not."""
    found = fit(course, setting.laid, limits)
    return found.count if found and not found.closing_rad else 0
