"""What is said of a wall that was laid: what was decided and why, and what an engineer has to see to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from blockrun.order.laid import CAUTION, Laid, Role
from blockrun.order.said import mm
from blockrun.order.walls.bond import EPS_MM, Gauge, overlap_at
from blockrun.order.walls.course import Placed
from blockrun.order.walls.heights import THIN_SHARE, Levels
from blockrun.order.walls.openings import Hole, Lintel, changes
from blockrun.order.walls.part import WallPart
from blockrun.order.walls.runs import Stretch

ENGINEER = "to be designed by a licensed engineer"


@dataclass
class Found:
    """What was found in laying a run: places with short overlaps or short blocks, as (course, along in mm)."""

    stretch: Stretch
    gauge: Gauge
    holes: Sequence[Hole]
    lintels: Sequence[Lintel]
    short_overlaps: list[tuple[int, float, float]] = field(default_factory=list)
    short_blocks: list[tuple[int, float, float]] = field(default_factory=list)
    n_wedges: int = 0

    def count(self, course: int, placed: Placed, below_mm: tuple[float, ...]) -> None:
        """Take note of a course: course number, place along the run, and the overlap or length found there."""
        for joint in placed.joints_mm if placed.rows else ():
            overlap = overlap_at(joint, below_mm, self.gauge)
            if overlap < self.gauge.overlap_mm - EPS_MM:
                self.short_overlaps.append((course, joint, overlap))
        for _, row in placed.rows:
            for left, right in row.blocks:
                if right - left < self.gauge.least_mm - EPS_MM:
                    self.short_blocks.append((course, left, right - left))


def notes_of(
    part: WallPart, way: Levels, n_sawn: Sequence[int], found: Sequence[Found], blocks: Sequence[Laid]
) -> tuple[str, ...]:
    """Sentences on a wall, the heights first."""
    return (
        *_heights(part, way, n_sawn),
        *(sentence for one in found for sentence in _joints(part, one)),
        *(sentence for one in found for sentence in _openings(part, way, one)),
        *(sentence for one in found for sentence in _shortcomings(one)),
        *_slopes(part, found),
        *_corners(part, found),
        *_engineer(part, found, blocks),
    )


def _heights(part: WallPart, way: Levels, n_sawn: Sequence[int]) -> Iterator[str]:
    if not way.special:
        if abs(way.bed_mm - part.joint_mm) > 1e-3:
            beds = f"{mm(way.bed_mm)} instead of {mm(part.joint_mm)}"
            yield f"Beds are {beds}, so that whole courses make up the height."
        return
    bottom, top = n_sawn
    which, other = ("cut top course", "levelling course") if way.at_top else ("levelling course", "cut top course")
    heights = f"{len(way.special)} x {mm(way.special[0])}" if len(way.special) > 1 else mm(way.special[0])
    mine, others = (top, bottom) if way.at_top else (bottom, top)
    why = f"{mine} sawn blocks against {others} with a {other}" if mine != others else f"{mine} sawn blocks either way"
    yield f"The height is no whole number of courses: a {which} of {heights}, {why}."


def _joints(part: WallPart, found: Found) -> Iterator[str]:
    if abs(found.gauge.joint_mm - part.joint_mm) > 1e-3:
        joints = f"{mm(found.gauge.joint_mm)} instead of {mm(part.joint_mm)}"
        yield f"{found.stretch.name}: end joints are {joints}, so that whole blocks make up the length."


def _openings(part: WallPart, way: Levels, found: Found) -> Iterator[str]:
    for opening, hole in zip(found.stretch.openings, found.holes, strict=True):
        said = changes(opening, hole, way.bed_mm)
        if said:
            what = f"{found.stretch.name}, {opening.name}: the hole is {' and '.join(said)} to meet a bed"
            sill, height = max(0.0, hole.bottom_mm), hole.top_mm - hole.bottom_mm
            yield f"{what}; pack it, or write sill: {mm(sill)} and height: {mm(height)}."
        if not hole.over:
            yield f"{found.stretch.name}, {opening.name}: no course goes over it, so it has no lintel of blocks."
            continue
        bearing = min(_bearings(hole, found, way))
        if bearing < part.bearing_mm - EPS_MM:
            what = f"its lintel bears on {mm(bearing)} only, not {mm(part.bearing_mm)}"
            yield f"{found.stretch.name}, {opening.name}: {what}; widen what stands beside it, or ask the engineer."


def _bearings(hole: Hole, found: Found, way: Levels) -> Iterator[float]:
    """How far a lintel can bear on each side: to the end of the run, or to a hole in its own course or that below."""
    course = way.courses[hole.over - 1]
    left, right = hole.left_mm - found.stretch.start.at_mm, found.stretch.end.at_mm - hole.right_mm
    for other in found.holes:
        if other is hole or other.bottom_mm > course.bottom_mm or other.top_mm <= course.bottom_mm + EPS_MM:
            continue
        if other.right_mm <= hole.left_mm:
            left = min(left, hole.left_mm - other.right_mm)
        if other.left_mm >= hole.right_mm:
            right = min(right, other.left_mm - hole.right_mm)
    yield left
    yield right


def _shortcomings(found: Found) -> Iterator[str]:
    least = (
        ("overlap", found.gauge.overlap_mm, found.short_overlaps),
        ("block", found.gauge.least_mm, found.short_blocks),
    )
    for what, limit, places in least:
        if places:
            course, along, length = min(places, key=lambda place: place[2])
            where = f"the shortest, {mm(length)}, in course {course} at {mm(along)}"
            short = f"{len(places)} {what}{'s' * (len(places) > 1)} under {mm(limit)}"
            yield f"{found.stretch.name}: {short}; {where}. Move an opening or a corner to mend it."


def _slopes(part: WallPart, found: Sequence[Found]) -> Iterator[str]:
    if any(one.n_wedges for one in found):
        yield f"Wedges under slopes that are lower than {mm(THIN_SHARE * part.block[1])} are made up in mortar."


def _corners(part: WallPart, found: Sequence[Found]) -> Iterator[str]:
    mitred = [one.stretch.name for one in found if one.stretch.end.mitre_deg]
    if mitred:
        yield f"Mitred corners, at the end of {', '.join(mitred)}, are not bonded: ties are {ENGINEER}."
    if any(one.stretch.piers for one in found):
        yield f"Piers are laid against the wall, not bonded into it: ties are {ENGINEER}."


def _engineer(part: WallPart, found: Sequence[Found], blocks: Sequence[Laid]) -> Iterator[str]:
    if any(one.over for run in found for one in run.holes):
        yield f"{CAUTION} lintels, with a bearing of at least {mm(part.bearing_mm)} each side, are {ENGINEER}."
    if any(block.role is Role.RING_BEAM for block in blocks):
        yield f"{CAUTION} ring beams are {ENGINEER}."
