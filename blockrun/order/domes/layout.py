"""From a dome to every block of it, course by course."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from blockrun.errors import BadInput
from blockrun.order.domes.clip import Point
from blockrun.order.domes.courses import Crown, courses
from blockrun.order.domes.develop import crown_outline, opening_outline
from blockrun.order.domes.faces import Spot
from blockrun.order.domes.frame import Course
from blockrun.order.domes.inserts import Inserts, inserts_of, usable
from blockrun.order.domes.notes import notes_of
from blockrun.order.domes.openings import half_width_rad, meets
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.pieces import Pieces, pieces
from blockrun.order.domes.rings import Ring, bed_joint, ring
from blockrun.order.domes.settings import settings
from blockrun.order.domes.stagger import Jamb, first_joint_rad, head_joints_rad, lined_up
from blockrun.order.domes.ways import Setting, limits_of
from blockrun.order.domes.wedge import fit
from blockrun.order.laid import Laid, Role
from blockrun.order.shape import Shape
from blockrun.site.moulds import MouldKind


@dataclass(frozen=True)
class Section:
    """A course in the section: inside bottom, outside bottom, outside top and inside top of its block.

    Each point is its distance from the axis and its height above the floor, mm; `from_crown_mm` is how far the bottom
    and the top edge of its inside face are from the crown in the developed view.
    """

    course: int
    outline: tuple[Point, Point, Point, Point]
    from_crown_mm: tuple[float, float]


@dataclass(frozen=True)
class DomeLayout:
    """A dome taken apart.

    Parameters
    ----------
    blocks : every block to be cast, from the bottom up and round; cut ones whole; last a crown block, if there is one.
    spots : where each of those stands, but for a crown block.
    courses : what is to be known of each ring, from the bottom up.
    crown : what closes it.
    notes : sentences for the builder, cautions last.
    sections : for the section's picture.
    openings : name and outline in the developed view of each opening, mm from the crown.
    pivot_mm : height above the floor, on the axis, of the pivot of the compass arm.
    """

    blocks: tuple[Laid, ...]
    spots: tuple[Spot, ...]
    courses: tuple[Ring, ...]
    crown: Crown
    notes: tuple[str, ...]
    sections: tuple[Section, ...]
    openings: tuple[tuple[str, tuple[Point, ...]], ...]
    pivot_mm: float


@dataclass(frozen=True)
class _Made:
    """A course with its setting and what is left of its blocks."""

    course: Course
    setting: Setting
    ring: Ring
    pieces: Pieces


def lay_dome(dome: DomePart, moulds: Sequence[MouldKind] = ()) -> DomeLayout:
    """Every block of a dome, its rings and what to say of it.

    Parameters
    ----------
    dome : as read.
    moulds : what there is to cast with, which decides where plain, tapered and sawn blocks go; none for moulds that
        are yet to be made.

    Raises
    ------
    BadInput : no block of the dome goes round one of its courses.
    """
    inserts = [inserts_of(kind) for kind in moulds]
    frames, crown, said = courses(dome)
    made: list[_Made] = []
    for course, setting in zip(frames, settings(dome, frames, inserts), strict=True):
        made.append(_make(dome, course, setting, made[-1] if made else None))
    blocks = [block for one in made for block in one.pieces.laid]
    if dome.crown == "block":
        blocks.append(_crown_block(dome, crown, len(frames) + 1, inserts))
    rings = tuple(one.ring for one in made)
    fills = {one.course.number: one.pieces.n_fills for one in made if one.pieces.n_fills}
    return DomeLayout(
        blocks=tuple(blocks),
        spots=tuple(spot for one in made for spot in one.pieces.spots),
        courses=rings,
        crown=crown,
        notes=(*said, *notes_of(dome, rings, crown, inserts, fills)),
        sections=tuple(_section(one) for one in made),
        openings=tuple((opening.name, opening_outline(dome, opening)) for opening in dome.openings),
        pivot_mm=dome.pivot_height_mm,
    )


def _make(dome: DomePart, course: Course, setting: Setting, below: _Made | None) -> _Made:
    found = fit(course, setting.laid, limits_of(dome, setting.way))
    if found is None:
        what = f"no block goes round course {course.number} with joints within the limits"
        raise BadInput(what, "Allow wider joints with joint_most, or a shorter block.", name="block_length")
    before = below.ring.joints_rad if below else ()
    first = first_joint_rad(course.number, found, before, list(_jambs(dome, course)))
    joints = head_joints_rad(first, found)
    bed = bed_joint(
        course, setting.laid.bed_deg, below.course if below else None, below.setting.laid.bed_deg if below else 0.0
    )
    kept = pieces(dome, course, setting, found, first)
    standing = tuple(_standing(dome, course, joints))
    beside = lined_up(standing, below.ring.standing_rad if below else (), 2 * found.half_angle_rad)
    whole = ring(dome, course, setting, found, kept, bed=bed, joints_rad=joints, standing_rad=standing, lined_up=beside)
    return _Made(course, setting, whole, kept)


def _section(one: _Made) -> Section:
    course = one.course
    return Section(course.number, course.outline(_bed_rad(one.setting)), course.from_crown_mm)


def _standing(dome: DomePart, course: Course, joints_rad: Sequence[float]) -> Iterator[float]:
    """Head joints that no opening takes."""
    taken = [
        (math.radians(opening.at_deg), half_width_rad(course, opening))
        for opening in dome.openings
        if meets(course, opening)
    ]
    for joint in joints_rad:
        if all(abs(math.remainder(joint - middle, 2 * math.pi)) >= half for middle, half in taken):
            yield joint


def _jambs(dome: DomePart, course: Course) -> Iterator[Jamb]:
    """The sides of the openings that come to a course."""
    shortest = dome.shortest_mm / max(course.top[0], 1.0)
    for opening in dome.openings:
        if meets(course, opening):
            half, middle = half_width_rad(course, opening), math.radians(opening.at_deg)
            yield Jamb(middle + half, 1, shortest)
            yield Jamb(middle - half, -1, shortest)


def _crown_block(dome: DomePart, crown: Crown, number: int, moulds: Sequence[Inserts]) -> Laid:
    """One round block, sawn out of a plain one as high as a course if that will do."""
    side = float(math.ceil(2 * crown.outside_radius_mm - 1e-6))
    fitting = [mould for mould in usable(dome, moulds) if mould.casts_plain and min(mould.cavity_mm[:2]) >= side - 1e-6]
    shape = Shape(side, max(side, dome.course_mm), dome.thickness_mm)
    if fitting:
        mould = min(fitting, key=lambda one: (not one.stop_ends, one.cavity_mm))
        shape = Shape(side if mould.stop_ends else mould.cavity_mm[0], *mould.cavity_mm[1:])
    cut = f"saw round: {2 * crown.outside_radius_mm:.0f} mm across outside, {2 * crown.inside_radius_mm:.0f} mm inside"
    return Laid(number, shape, 0, crown_outline(crown, dome.joint_mm), cut, Role.CROWN)


def _bed_rad(setting: Setting) -> float:
    return math.radians(setting.laid.bed_deg)
