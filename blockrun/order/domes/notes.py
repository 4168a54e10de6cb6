"""What a builder must be told of a dome, in sentences."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Final

from blockrun import units
from blockrun.order.domes.courses import Crown
from blockrun.order.domes.frame import Course
from blockrun.order.domes.inserts import Inserts, usable
from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.rings import Ring
from blockrun.order.domes.stem import stem_notes
from blockrun.order.domes.ways import Setting, Way
from blockrun.order.domes.wedge import Fit, gaps_mm
from blockrun.order.laid import CAUTION
from blockrun.order.said import mm

TENSION_FROM_CROWN_DEG: Final = math.degrees(math.acos((math.sqrt(5) - 1) / 2))
"""On a hemisphere under its own weight, where the pull round the rings begins: cos = (sqrt 5 - 1)/2.

The ring force a unit of width is w R (cos a - 1/(1 + cos a)), a the angle from the crown: nought where
cos^2 a + cos a = 1. Membrane theory, from memory; the root is derived (51.827 deg).
"""
_OVENS: Final = ("oven", "kiln", "furnace", "fireplace", "chimney")
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
    dome: DomePart, rings: Sequence[Ring], crown: Crown, moulds: Sequence[Inserts], fills: Mapping[int, int]
) -> Iterator[str]:
    """All notes but those of courses cut under the crown, each one sentence, cautions last."""
    yield from stem_notes(dome, rings)
    yield from _ways(rings)
    yield from _cavities(dome, rings, crown, moulds)
    yield from _joints(dome, rings, fills)
    yield from _crown(dome, crown)
    yield from _cautions(dome, rings)
    yield from _fire(dome)


def _ways(rings: Sequence[Ring]) -> Iterator[str]:
    """One sentence for each run of courses made the same way."""
    for way, run in groupby(rings, lambda ring: ring.setting.way):
        same = list(run)
        long = _span([round(ring.setting.cast.length_mm) for ring in same])
        which = _courses([ring.course for ring in same])
        yield f"{which}: {'sawn from' if way is Way.SAWN else way.value} blocks {long} mm long."


def _cavities(dome: DomePart, rings: Sequence[Ring], crown: Crown, moulds: Sequence[Inserts]) -> Iterator[str]:
    """Where a block is longer, higher or thicker than the cavities there are."""
    if not moulds:
        return
    fitting = usable(dome, moulds)
    if not fitting:
        cavities = ", ".join(sorted({units.show_size(*mould.cavity_mm) for mould in moulds}))
        due = f"{mm(dome.course_mm)} high and {mm(dome.thickness_mm)} thick"
        yield f"No cavity ({cavities}) gives blocks {due}: change course or thickness to fit one, or add a mould."
        return
    longest = max(mould.cavity_mm[0] for mould in fitting)
    highest = max(mould.cavity_mm[1] for mould in [one for one in fitting if one.casts_plain] or fitting)
    if dome.block_length_mm > longest:
        yield f"Blocks are {mm(longest)} long at most, as the cavity is, not {mm(dome.block_length_mm)}."
    high = [ring for ring in rings if ring.setting.way is Way.SAWN and ring.setting.cast.height_mm > highest + 0.5]
    if high:
        outside = max(ring.setting.cast.height_mm for ring in high)
        fits = math.floor(dome.course_mm - (outside - highest))
        yield (
            f"{_courses([ring.course for ring in high])}: {mm(outside)} high outside, over the cavity's"
            f" {mm(highest)}: write a course of {mm(fits)}, or a wider joint_most."
        )
    across = 2 * crown.outside_radius_mm
    if dome.crown == "block" and across > highest + 0.5:
        yield (
            f"The crown block is {mm(math.ceil(across))} across, over the cavity's height of {mm(highest)}: cast it"
            " in a box, or write crown: ring or crown: eye."
        )


def _joints(dome: DomePart, rings: Sequence[Ring], fills: Mapping[int, int]) -> Iterator[str]:
    springs_deg = math.degrees(dome.curve.at(0.0).lean_rad)
    first = next(ring for ring in rings if not ring.stem)
    if springs_deg > 0.5:
        inside, outside = first.bed_joint_mm
        yield (
            f"Build up the bed of course {first.course} from {inside:.0f} mm inside to {outside:.0f} mm outside, as"
            f" the curve springs at {springs_deg:.1f} deg from upright."
        )
    others = [ring for ring in rings if ring.course > 1 and not (ring is first and springs_deg > 0.5)]
    beds = max((max(ring.bed_joint_mm) for ring in others), default=0.0)
    if beds > dome.joint_mm + 1:
        yield f"Bed joints open to {beds:.0f} mm outside: pack them with chips of block."
    if fills:
        gaps = sum(fills.values())
        one = "a gap" if gaps == 1 else f"{gaps} gaps"
        yield f"{_courses(list(fills))}: fill {one} at openings, too small for a block, with mortar and chips."
    lined = sum(ring.lined_up for ring in rings)
    if lined:
        total = sum(len(ring.joints_rad) for ring in rings)
        yield f"{lined} of {total} head joints stand within a quarter of a block of one below, as rings differ."


def _crown(dome: DomePart, crown: Crown) -> Iterator[str]:
    edge = mm(round(2 * crown.edge_radius_mm))
    if dome.crown == "eye":
        yield f"The eye is {edge} wide inside; the ring round it carries the push of the dome."
    elif dome.crown == "ring":
        yield f"Close the hole in the last ring, {edge} wide inside, with a plug cast in place."


def _cautions(dome: DomePart, rings: Sequence[Ring]) -> Iterator[str]:
    yield "Begin a course only when all its blocks are ready: a ring carries nothing until its last block is in."
    pulled = [ring.course for ring in rings if not ring.stem and 90 - ring.lean_deg > TENSION_FROM_CROWN_DEG]
    where = f" (here {_courses(pulled).lower()})" if pulled and dome.profile == "hemisphere" else ""
    other = "" if dome.profile == "hemisphere" else ", and elsewhere on this profile,"
    yield (
        f"{CAUTION} further than {TENSION_FROM_CROWN_DEG:.1f} deg from the crown of a hemisphere{where}{other} rings"
        f" pull outward, which blocks and mortar do not hold: what ties the dome {_ENGINEER}."
    )
    if dome.openings:
        yield "Mark cuts at openings on both faces, as they run level or straight through; left is as from outside."
        names = ", ".join(opening.name for opening in _by_place(dome.openings))
        yield f"{CAUTION} what carries the cut rings over and beside {names} {_ENGINEER}."


def _fire(dome: DomePart) -> Iterator[str]:
    """A word on fire for a dome that is called an oven. Common practice, no source."""
    if any(oven in dome.name.lower() for oven in _OVENS):
        yield f"{CAUTION} foamed concrete is no lining for a fire by itself: it needs one that stands the heat."


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
