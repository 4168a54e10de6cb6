"""A dome's section cut into courses: the stem from the floor up, the curve from the springing to the crown."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.profile import Curve, along_at_radius_mm
from blockrun.order.domes.said import courses_said

_STRETCH = 1.5
"""A bed joint of the stem may be stretched to this many usual ones (our choice) to save a cut course."""


@dataclass(frozen=True)
class Crown:
    """What is left open above the last course, and what closes it.

    Parameters
    ----------
    from_crown_mm : along the curve from the crown to the edge of the last course.
    edge_radius_mm : inside radius of that edge.
    inside_radius_mm, outside_radius_mm : of the crown block, the plug or the eye, after the joint.
    floor_mm : height of its inside face above the floor.
    """

    from_crown_mm: float
    edge_radius_mm: float
    inside_radius_mm: float
    outside_radius_mm: float
    floor_mm: float


@dataclass(frozen=True)
class Band:
    """A course before it has its place: height as laid, joint below."""

    height_mm: float
    joint_mm: float


def courses(dome: DomePart) -> tuple[list[Course], Crown, list[str]]:
    """Courses from the floor to the crown, what closes it, and what to say of courses cut under the crown."""
    stem, notes = stem_bands(dome), list[str]()
    bands, edge_mm = curve_bands(dome)
    found = list(_stem_courses(dome, stem))
    found += _curve_courses(dome, bands, len(stem))
    lower = [number for number, band in enumerate(bands, len(stem) + 1) if band.height_mm < dome.course_mm - 1]
    if lower:
        are = "are" if len(lower) > 1 else "is"
        notes.append(f"{courses_said(lower)} {are} cut to {dome.said(found[-1].height_mm)} high to suit the crown.")
    return found, _crown(dome, edge_mm), notes


def stem_bands(dome: DomePart) -> list[Band]:
    """Courses of the stem: whole ones with joints stretched or squeezed a little, else a cut course at the bottom."""
    if not dome.stem_mm:
        return []
    stem, pitch = dome.stem_mm, dome.course_mm + dome.joint_mm
    most = min(dome.most_joint_mm, _STRETCH * dome.joint_mm)
    for count in (round(stem / pitch), math.ceil(stem / pitch), math.floor(stem / pitch)):
        joint = stem / count - dome.course_mm if count else 0.0
        if count and dome.least_joint_mm - 1e-9 <= joint <= most + 1e-9:
            return [Band(dome.course_mm, joint)] * count
    whole = math.floor(stem / pitch)
    rest = stem - whole * pitch
    lower = 1 if rest - dome.joint_mm >= dome.lowest_mm else 2
    whole -= lower - 1
    height = (stem - whole * pitch) / lower - dome.joint_mm
    return [Band(height, dome.joint_mm)] * lower + [Band(dome.course_mm, dome.joint_mm)] * whole


def curve_bands(dome: DomePart) -> tuple[list[Band], float]:
    """Courses of the curve and how far from the crown, along it, the last one ends."""
    total, joint, pitch = dome.curve.length_mm, dome.joint_mm, dome.course_mm + dome.joint_mm
    least, most = crown_range_mm(dome)
    whole = math.floor((total - least) / pitch)
    edge = total - whole * pitch
    if edge <= most + 1e-9:
        return [Band(dome.course_mm, joint)] * whole, edge
    rest = edge - most
    lower = 1 if rest - joint >= dome.lowest_mm else 2
    height = (rest + (lower - 1) * pitch) / lower - joint
    return [Band(dome.course_mm, joint)] * (whole - lower + 1) + [Band(height, joint)] * lower, most


def crown_range_mm(dome: DomePart) -> tuple[float, float]:
    """From where to where, along the curve from the crown, the last course may end.

    A crown block goes from the smallest radius, inside, to what a block of the course's height holds outside (our
    choice); an eye has its own width, a plug the smallest radius.
    """
    total = dome.curve.length_mm
    small = dome.smallest_mm
    if dome.crown != "block":
        radius = dome.eye_diameter_mm / 2 if dome.eye_diameter_mm else small
        edge = total - along_at_radius_mm(dome.curve, radius)
        return edge, edge
    least = total - along_at_radius_mm(dome.curve, small) + dome.joint_mm
    low, high = least, max(least, dome.curve.length_mm / 2)
    for _ in range(50):
        middle = (low + high) / 2
        fits = 2 * _crown(dome, middle).outside_radius_mm <= dome.course_mm
        low, high = (middle, high) if fits else (low, middle)
    return least, low


def _crown(dome: DomePart, edge_mm: float) -> Crown:
    """The crown block's sides follow the last bed, a joint further in; an eye and a plug reach to the edge itself."""
    total = dome.curve.length_mm
    edge = dome.curve.at(total - edge_mm)
    inner = dome.curve.at(total - edge_mm + dome.joint_mm) if dome.crown == "block" else edge
    outside = inner.radius_mm + dome.thickness_mm / math.tan(max(edge.lean_rad, 0.1))
    return Crown(edge_mm, edge.radius_mm, inner.radius_mm, outside, dome.stem_mm + inner.height_mm)


def _stem_courses(dome: DomePart, bands: Sequence[Band]) -> Iterator[Course]:
    level, arc = 0.0, dome.curve.length_mm
    for number, band in enumerate(bands, 1):
        foot, top = level + band.joint_mm, level + band.joint_mm + band.height_mm
        yield Course(
            number,
            (dome.radius_mm, foot),
            (dome.radius_mm, top),
            0.0,
            dome.thickness_mm,
            dome.course_mm,
            band.height_mm,
            (arc + dome.stem_mm - foot, arc + dome.stem_mm - top),
        )
        level = top


def _curve_courses(dome: DomePart, bands: Sequence[Band], below: int) -> list[Course]:
    found: list[Course] = []
    along, total = 0.0, dome.curve.length_mm
    for number, band in enumerate(bands, below + 1):
        top = along + band.joint_mm + band.height_mm
        foot = _foot_mm(dome.curve, top, band.height_mm)
        low, high = dome.curve.at(foot), dome.curve.at(top)
        beds = dome.curve.at(along + band.joint_mm / 2), dome.curve.at(min(top + band.joint_mm / 2, total))
        found.append(
            Course(
                number,
                (low.radius_mm, dome.stem_mm + low.height_mm),
                (high.radius_mm, dome.stem_mm + high.height_mm),
                (beds[1].lean_rad - beds[0].lean_rad) / 2,
                dome.thickness_mm,
                dome.course_mm,
                band.height_mm,
                (total - foot, total - top),
            )
        )
        along = top
    return found


def _foot_mm(curve: Curve, top_mm: float, height_mm: float) -> float:
    """Along the curve, where a straight block ends whose top edge is at a place: further down than it is high.

    What the curve is longer than the block comes off the joint below; `refuse` leaves room for it.
    """
    foot, high = top_mm - height_mm, curve.at(top_mm)
    for _ in range(4):  # each brings it nearer by the square of height over radius
        low = curve.at(foot)
        chord = math.hypot(high.radius_mm - low.radius_mm, high.height_mm - low.height_mm)
        foot = max(0.0, top_mm - (top_mm - foot) * height_mm / chord)
    return foot
