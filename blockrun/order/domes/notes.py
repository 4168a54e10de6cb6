"""What a builder must be told of a dome, in sentences."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Final

from blockrun import units
from blockrun.order.domes.courses import Crown
from blockrun.order.domes.frame import Course
from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.rings import Ring
from blockrun.order.domes.settings import Inserts, Setting, Way, usable
from blockrun.order.domes.wedge import Fit, gaps_mm
from blockrun.order.said import mm

TENSION_FROM_CROWN_DEG: Final = math.degrees(math.acos((math.sqrt(5) - 1) / 2))
"""On a hemisphere under its own weight, where the pull round the rings begins: cos = (sqrt 5 - 1)/2.

The ring force a unit of width is w R (cos a - 1/(1 + cos a)), a the angle from the crown: nought where
cos^2 a + cos a = 1. Membrane theory, from memory; the root is derived (51.827 deg).
"""
_MOST_OF_RING: Final = 0.5
_ENGINEER: Final = "is to be designed by a licensed engineer"


def why(dome: DomePart, course: Course, setting: Setting, found: Fit) -> str:
    """Why the blocks of a course are plain, tapered or sawn."""
    gaps = gaps_mm(course, setting.laid, found.half_angle_rad)
    joints = f"head joints {min(gaps):.0f} to {max(gaps):.0f} mm"
    if setting.way is Way.PLAIN:
        return f"plain blocks: {joints}, within {mm(dome.least_joint_mm)} to {mm(dome.most_joint_mm)}"
    longest = plain_length_mm(dome, course)
    instead = f"plain ones would be {longest:.0f} mm long at most" if longest > 0 else "plain ones would not go round"
    if setting.way is Way.TAPERED:
        return f"tapered blocks: {instead} ({joints})"
    return f"sawn blocks: no mould casts these leans, and {instead} ({joints})"


def plain_length_mm(dome: DomePart, course: Course) -> float:
    """Longest plain block whose head joints in this course go from the usual to the widest.

    From the inside top to the outside bottom a joint between plain blocks widens by 2 sin a (t cos e + h sin e), a
    the half angle, t the thickness, h the height and e the lean.
    """
    (cos, sin), inside_top = course.lean, course.top[0]
    wedge = 2 * (course.thickness_mm * cos + course.height_mm * sin)
    half_angle = math.asin(min(0.99, (dome.most_joint_mm - dome.joint_mm) / wedge))
    return 2 * inside_top * math.tan(half_angle) - dome.joint_mm / math.cos(half_angle)


def notes_of(
    dome: DomePart, rings: Sequence[Ring], crown: Crown, moulds: Sequence[Inserts], slivers: Mapping[int, int]
) -> Iterator[str]:
    """All notes but those of cut courses, cautions last."""
    yield from _ways(rings)
    yield from _cavities(dome, rings, crown, moulds)
    yield from _joints(dome, rings, slivers)
    yield from _crown(dome, crown)
    yield from _springing(dome)
    yield from _cautions(dome, rings)


def _ways(rings: Sequence[Ring]) -> Iterator[str]:
    """One sentence for each run of courses that share a setting."""
    for (way, laid, cast), run in groupby(rings, lambda ring: (ring.setting.way, ring.setting.laid, ring.setting.cast)):
        same = list(run)
        counts = _span([ring.count for ring in same])
        which = _courses([ring.course for ring in same])
        leans = [
            f"{angle:.1f} deg {where}"
            for angle, where in (
                (laid.bevel_deg, "through the thickness"),
                (laid.taper_deg, "up the face"),
                (laid.bed_deg, "of the beds"),
            )
            if angle
        ]
        lean = f", ends leaning {' and '.join(leans)}" if leans else ""
        size = f"{cast.length_mm:.0f} x {cast.height_mm:.0f} mm"
        yield f"{which}: {way.value} blocks cast {size}{lean}; {counts} in a ring."


def _cavities(dome: DomePart, rings: Sequence[Ring], crown: Crown, moulds: Sequence[Inserts]) -> Iterator[str]:
    """Where a block is longer, higher or thicker than the cavities there are."""
    if not moulds:
        return
    if not usable(dome, moulds):
        cavities = ", ".join(sorted({units.show_size(*mould.cavity_mm) for mould in moulds}))
        due = f"{mm(dome.course_mm)} high and {mm(dome.thickness_mm)} thick"
        yield f"No cavity ({cavities}) gives blocks {due}: change course or thickness to fit one, or add a mould."
        return
    longest = max(mould.cavity_mm[0] for mould in usable(dome, moulds))
    plain = [mould for mould in usable(dome, moulds) if mould.casts_plain] or usable(dome, moulds)
    highest = max(mould.cavity_mm[1] for mould in plain)
    if dome.block_length_mm > longest:
        yield (
            f"A block of {mm(dome.block_length_mm)} is longer outside than the cavity, {mm(longest)}; blocks no"
            " longer than that are taken."
        )
    sawn = [ring for ring in rings if ring.setting.way is Way.SAWN]
    high = [ring for ring in sawn if ring.setting.cast.height_mm > highest + 0.5]
    if high:
        outside = max(ring.setting.cast.height_mm for ring in high)
        fits = math.floor(dome.course_mm - (outside - highest))
        yield (
            f"{_courses([ring.course for ring in high])}: {mm(outside)} high outside, more than the cavity,"
            f" {mm(highest)}, as the beds lean; a course of {mm(fits)} would fit, or a wider joint_most."
        )
    across = 2 * crown.outside_radius_mm
    if dome.crown == "block" and across > highest + 0.5:
        yield (
            f"The crown block is {mm(math.ceil(across))} across outside, more than the cavity is high,"
            f" {mm(highest)}: cast it in a box of its own, or write crown: ring or crown: eye."
        )


def _joints(dome: DomePart, rings: Sequence[Ring], slivers: Mapping[int, int]) -> Iterator[str]:
    beds = max((max(ring.bed_joint_mm) for ring in rings if ring.course > 1), default=0.0)
    if beds > dome.joint_mm + 1:
        yield f"Bed joints open to {beds:.0f} mm outside; pack them with chips of block and mortar."
    if slivers:
        yield (
            f"{_courses(list(slivers))}: a piece shorter than {mm(dome.shortest_mm)} is left beside or over an"
            " opening; fill it with mortar and chips, or move or widen the opening a little."
        )
    lined = sum(ring.lined_up for ring in rings)
    if lined:
        total = sum(len(ring.joints_rad) for ring in rings)
        yield (
            f"{lined} of {total} head joints stand within a quarter of a block of one below: rings of different"
            " counts cannot all miss one another."
        )


def _crown(dome: DomePart, crown: Crown) -> Iterator[str]:
    edge = 2 * crown.edge_radius_mm
    if dome.crown == "eye":
        yield f"The eye is {mm(round(edge))} wide inside; the ring round it carries the push of the dome."
    elif dome.crown == "ring":
        yield f"The last ring leaves a hole {mm(round(edge))} wide inside: close it with a plug cast in place."


def _springing(dome: DomePart) -> Iterator[str]:
    """Openings that cut the ring at the springing, and a curve that springs at a lean."""
    lean = math.degrees(dome.curve.at(0.0).lean_rad)
    if lean > 0.5:
        rise = dome.thickness_mm * math.sin(math.radians(lean))
        yield (
            f"The curve springs at {lean:.1f} deg from upright: build the bed of the first ring up to that lean,"
            f" {mm(round(rise))} at the outside, before laying it."
        )
    cutting = [opening for opening in dome.openings if opening.sill_mm < dome.stem_mm < opening.head_mm]
    if not dome.stem_mm:
        cutting = [opening for opening in dome.openings if opening.sill_mm <= 0]
    if not cutting:
        return
    share = sum(math.asin(min(1.0, opening.width_mm / dome.inside_diameter_mm)) for opening in cutting) / math.pi
    names = " and ".join(opening.name for opening in cutting)
    part = "most of the springing" if share > _MOST_OF_RING else f"{100 * share:.0f} % of the springing"
    free = max(opening.head_mm for opening in cutting) + dome.course_mm + dome.joint_mm
    yield (
        f"{names}: {'takes' if len(cutting) == 1 else 'take'} {part} out of the ring that ties the dome; a stem of"
        f" {mm(math.ceil(free))} would leave that ring whole, with a course over the opening."
    )


def _cautions(dome: DomePart, rings: Sequence[Ring]) -> Iterator[str]:
    yield "A ring carries nothing until its last block is in: begin a course only when all its blocks are ready."
    angle = f"{TENSION_FROM_CROWN_DEG:.1f} deg"
    pulled = [ring.course for ring in rings if not ring.stem and 90 - ring.lean_deg > TENSION_FROM_CROWN_DEG]
    where = f" (here {_courses(pulled).lower()})" if pulled and dome.profile == "hemisphere" else ""
    other = "" if dome.profile == "hemisphere" else ", and elsewhere on this profile"
    yield (
        f"Caution: further than {angle} from the crown of a hemisphere{where}{other} the rings pull outward under"
        f" their own weight, which blocks and mortar do not hold: what ties the dome {_ENGINEER}."
    )
    if dome.openings:
        yield (
            "Cuts at openings run level, or straight through beside the opening, and so not square to a block: mark"
            " them on both faces. Left and right are as seen from outside."
        )
        names = ", ".join(opening.name for opening in _by_place(dome.openings))
        yield f"Caution: what carries the cut rings over and beside {names} (lintel, arch, frame) {_ENGINEER}."


def _by_place(openings: Sequence[DomeOpening]) -> list[DomeOpening]:
    return sorted(openings, key=lambda opening: (opening.at_deg, opening.name))


def _courses(numbers: Sequence[int]) -> str:
    """Course 3, Courses 1 to 4, Courses 1 to 4 and 7."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    runs = [part for run in runs for part in ([[run[0]], [run[1]]] if len(run) == 2 else [run])]
    words = [str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs]
    listed = " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]
    return f"Course{'s' if len(numbers) > 1 else ''} {listed}"


def _span(counts: Sequence[int]) -> str:
    low, high = min(counts), max(counts)
    return str(low) if low == high else f"{low} to {high}"
