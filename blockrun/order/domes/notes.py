"""What a builder must be told of a dome, in sentences."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Final

from blockrun import units
from blockrun.order.domes.cautions import cautions_of
from blockrun.order.domes.courses import Crown
from blockrun.order.domes.inserts import Inserts, as_thick, holding, usable
from blockrun.order.domes.part import DomePart
from blockrun.order.domes.rings import Ring
from blockrun.order.domes.said import courses_said
from blockrun.order.domes.stem import stem_notes
from blockrun.order.domes.ways import Way

WIDEST_ADVISED_MM: Final = 40.0
"""Of mortar in a joint that is advised; wider, it is a filling, and sags and shrinks (our choice)."""


def notes_of(
    dome: DomePart, rings: Sequence[Ring], crown: Crown, moulds: Sequence[Inserts], fills: Mapping[int, int]
) -> Iterator[str]:
    """All notes but those of courses cut under the crown, each one sentence, cautions last."""
    yield from stem_notes(dome, rings)
    yield from _ways(dome, rings)
    yield from _cavities(dome, rings, crown, moulds)
    yield from _joints(dome, rings, fills)
    yield from _crown(dome, crown)
    yield from cautions_of(dome, rings)


def _ways(dome: DomePart, rings: Sequence[Ring]) -> Iterator[str]:
    """One sentence for each run of courses made the same way."""
    for way, run in groupby(rings, lambda ring: ring.setting.way):
        same = list(run)
        long = _span(dome, [ring.setting.cast.length_mm for ring in same])
        which = courses_said([ring.course for ring in same])
        yield f"{which}: {'sawn from' if way is Way.SAWN else way.value} blocks {long} long."


def _cavities(dome: DomePart, rings: Sequence[Ring], crown: Crown, moulds: Sequence[Inserts]) -> Iterator[str]:
    """Where a block is longer, higher or thicker than the cavities there are."""
    if not moulds:
        return
    fitting = usable(dome, moulds)
    if not fitting:
        cavities = ", ".join(sorted({units.show_size(*mould.cavity_mm, dome.system) for mould in moulds}))
        due = f"{dome.said(dome.course_mm)} high and {dome.said(dome.thickness_mm)} thick"
        yield f"No cavity ({cavities}) gives blocks {due}: change course or thickness to fit one, or add a mould."
        return
    longest = max(mould.cavity_mm[0] for mould in fitting)
    highest = max(mould.cavity_mm[1] for mould in [one for one in fitting if one.casts_plain] or fitting)
    if dome.block_length_mm > longest:
        yield f"Blocks are {dome.said(longest)} long at most, as the cavity is, not {dome.said(dome.block_length_mm)}."
    high = [ring for ring in rings if ring.setting.way is Way.SAWN and ring.setting.cast.height_mm > highest + 0.5]
    if high:
        outside = dome.said(max(ring.setting.cast.height_mm for ring in high))
        yield (
            f"{courses_said([ring.course for ring in high])}: {outside} high outside, over the cavity's"
            f" {dome.said(highest)}: {_level_beds(dome, high)}."
        )
    across = 2 * crown.outside_radius_mm
    if dome.crown == "block" and not holding(dome, moulds, across):
        holds = max(min(mould.cavity_mm[:2]) for mould in as_thick(dome, moulds))
        yield (
            f"The crown block is {dome.at_least(across)} across, over the {dome.said(holds)} that a cavity holds: cast"
            " it in a box, or write crown: ring or crown: eye."
        )


def _level_beds(dome: DomePart, high: Sequence[Ring]) -> str:
    """What lets blocks of these courses lie without leans of their beds: a wider joint, or a lower course.

    Where the joint would be wider than anybody lays, a larger dome in its place; and joints as wide as are advised
    only where no course is low enough with those that are asked for.
    """
    bed_rad = math.radians(max(ring.even_deg[2] for ring in high))
    joint_mm = dome.joint_mm + 2 * dome.thickness_mm * math.tan(bed_rad)
    lower = _lower_course(dome, dome.most_joint_mm, bed_rad)
    if joint_mm <= WIDEST_ADVISED_MM:
        return f"write joint_most: {dome.at_least(joint_mm)}{lower and f', or {lower}'}"
    if not lower and (lower := _lower_course(dome, WIDEST_ADVISED_MM, bed_rad)):
        lower = f"joint_most: {dome.at_least(WIDEST_ADVISED_MM)} and {lower}"
    return f"{lower and f'write {lower}, or '}make the dome larger"


def _lower_course(dome: DomePart, most_joint_mm: float, bed_rad: float) -> str:
    """A course so low that its beds need no lean, with joints up to so wide; nothing where there is none."""
    flattest_rad = math.atan((most_joint_mm - dome.joint_mm) / (2 * dome.thickness_mm))
    course_mm = (dome.course_mm + dome.joint_mm) * flattest_rad / bed_rad - dome.joint_mm
    return f"a course of up to {dome.up_to(course_mm)} and moulds as high" if course_mm > dome.lowest_mm else ""


def _joints(dome: DomePart, rings: Sequence[Ring], fills: Mapping[int, int]) -> Iterator[str]:
    springs_deg = math.degrees(dome.curve.at(0.0).lean_rad)
    first = next(ring for ring in rings if not ring.stem)
    if springs_deg > 0.5:
        inside, outside = first.bed_joint_mm
        yield (
            f"Build up the bed of course {first.course} from {dome.on_tape(inside)} inside to"
            f" {dome.on_tape(outside)} outside, as the curve springs at {springs_deg:.1f} deg from upright."
        )
    others = [ring for ring in rings if ring.course > 1 and not (ring is first and springs_deg > 0.5)]
    beds = max((max(ring.bed_joint_mm) for ring in others), default=0.0)
    if beds > dome.joint_mm + 1:
        yield f"Bed joints open to {dome.on_tape(beds)} outside: pack them with chips of block."
    if fills:
        gaps = sum(fills.values())
        one = "a gap" if gaps == 1 else f"{gaps} gaps"
        yield f"{courses_said(list(fills))}: fill {one} at openings, too small for a block, with mortar and chips."
    lined = sum(ring.lined_up for ring in rings)
    if lined:
        total = sum(len(ring.standing_rad) for ring in rings[1:])  # under the first there is no course
        yield f"{lined} of {total} head joints stand within a quarter of a block of one below, as rings differ."


def _crown(dome: DomePart, crown: Crown) -> Iterator[str]:
    edge = dome.on_tape(2 * crown.edge_radius_mm)
    if dome.crown == "eye":
        yield f"The eye is {edge} wide inside; the ring round it carries the push of the dome."
    elif dome.crown == "ring":
        yield f"Close the hole in the last ring, {edge} wide inside, with a plug cast in place."


def _span(dome: DomePart, lengths_mm: Sequence[float]) -> str:
    low, high = (dome.on_tape(length) for length in (min(lengths_mm), max(lengths_mm)))
    return low if low == high else f"{low.split(' ', maxsplit=1)[0]} to {high}"
