"""What is said of a wall that was laid: what was decided and why, and what an engineer has to see to."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Final

from blockrun import units
from blockrun.order.laid import CAUTION, Laid, Role
from blockrun.order.walls.bond import EPS_MM
from blockrun.order.walls.found import Found, Nearer
from blockrun.order.walls.heights import THIN_SHARE, Levels
from blockrun.order.walls.opening_notes import opening_notes
from blockrun.order.walls.part import WallPart
from blockrun.order.walls.pier_notes import ENGINEER, pier_notes
from blockrun.order.walls.runs import FLATTEST_DEG
from blockrun.order.walls.sense import doubts
from blockrun.order.walls.tops import height_at

WIND: Final = (
    f"{CAUTION} a wall that stands free, while it is built or for good, can be blown over: prop it, build none in wind,"
    " and let an engineer or the local rules say how high it may stand."
)
"""Common practice, no source: blocks so light, in fresh mortar, are soon pushed over."""


def notes_of(
    part: WallPart, way: Levels, n_sawn: Sequence[int], found: Sequence[Found], blocks: Sequence[Laid]
) -> tuple[str, ...]:
    """Sentences on a wall: what may not be meant and the heights first."""
    return (
        *doubts(part, max(up for one in found for _, up in one.stretch.line)),
        *_heights(part, way, n_sawn),
        *(sentence for one in found for sentence in _joints(part, one)),
        *(_beside(part, run.nearer) for run in found if run.nearer),
        *(sentence for one in found for sentence in opening_notes(part, way, one)),
        *(sentence for one in found for sentence in _shortcomings(part, one)),
        *_seen(found),
        *_slopes(part, found),
        *_steps(part, found),
        *_corners(found),
        *pier_notes(part, found),
        WIND,
        *_engineer(part, found, blocks),
    )


def _heights(part: WallPart, way: Levels, n_sawn: Sequence[int]) -> Iterator[str]:
    if not way.special:
        beds, written = part.said(way.bed_mm), part.said(part.joint_mm)
        if beds != written:
            yield f"Beds are {beds}, not {written}: whole courses make up the height."
        return
    names = ("levelling course", "cut top course")
    mine, other = n_sawn[way.at_top], n_sawn[not way.at_top]
    name, height = names[way.at_top], part.said(way.special[0])
    what = f"A {name} of {height} makes" if len(way.special) == 1 else f"Two {name}s of {height} make"
    against = f", {other} with a {names[not way.at_top]}" if mine != other else " either way"
    yield f"{what} up the height: {mine} sawn blocks{against}; none is needed at {_whole_heights(part)}."


def _whole_heights(part: WallPart) -> str:
    """The nearest heights, below and above, of whole courses."""
    pitch = part.block[1] + part.joint_mm
    n_whole = int(part.height_mm / pitch)
    return " or ".join(part.said(count * pitch) for count in (n_whole, n_whole + 1) if count)


def _joints(part: WallPart, found: Found) -> Iterator[str]:
    joints, written = part.said(found.gauge.joint_mm), part.said(part.joint_mm)
    if joints != written:
        mine, other = found.n_parts
        yield found.said(
            f"end joints are {joints}, not {written}: blocks shorter than whole are then {mine}, not {other}."
        )


def _beside(part: WallPart, nearer: Nearer) -> str:
    """What was tried together is said together: one of several places alone may leave as many short blocks."""
    names = units.listed([opening.name for opening, _ in nearer.places])
    off = units.listed([part.said(abs(place - opening.from_mm)) for opening, place in nearer.places])
    there = units.listed([f"from: {part.said(place)}" for _, place in nearer.places])
    are = "it is" if len(nearer.places) == 1 else "they are"
    return f"{names}: {are} {off} off the bond; write {there}, and {nearer.fewer} fewer blocks are shorter than whole."


def _shortcomings(part: WallPart, found: Found) -> Iterator[str]:
    least = (
        ("overlap", found.gauge.overlap_mm, found.short_overlaps),
        ("block", found.gauge.least_mm, found.short_blocks),
    )
    for what, limit, places in least:
        if places:
            course, along, length = min(places, key=lambda place: place[2])
            where = f"the shortest, {part.said(length)}, in course {course} at {part.said(along)}"
            short = f"{len(places)} {what}{'s' * (len(places) > 1)} under {part.said(limit)}"
            longer = _longer(part, found) if what == "overlap" else ""
            yield found.said(f"{short}, {where}; move an opening or a corner{longer}.")


def _longer(part: WallPart, found: Found) -> str:
    """The block that keeps the overlap over the skew ends of a run: it reaches from its tip past the other course."""
    skew = [end for end in (found.stretch.start, found.stretch.end) if end.returns and end.behind_mm]
    least = max((abs(end.behind_mm) + end.back_mm + found.gauge.overlap_mm for end in skew), default=0.0)
    if least <= part.block[0] + EPS_MM:
        return ""
    return f", or take blocks of {part.said(math.ceil(least))}: those keep it over the skew corner"


def _seen(found: Sequence[Found]) -> Iterator[str]:
    """Which face the lengths of a run are of whose other face is longer."""
    names = [one.stretch.name for one in found if one.stretch.goes_on]
    if names:
        whose = "it meets" if len(names) == 1 else "they meet"
        of = "lengths and places are of the side that is seen"
        yield f"{', '.join(names)}: {of}; every second course goes on into the wall {whose}."


def _slopes(part: WallPart, found: Sequence[Found]) -> Iterator[str]:
    if any(one.n_wedges for one in found):
        low, short = part.said(THIN_SHARE * part.block[1]), part.said(part.least_mm)
        yield f"Wedges under slopes lower than {low} or shorter than {short} are made up in mortar."


def _steps(part: WallPart, found: Sequence[Found]) -> Iterator[str]:
    """Where a slope leaves one of two runs that meet alone; between level runs, and under a gable, that is meant."""
    runs = {one.stretch.name: one.stretch for one in found}
    for (one, here), (two, there), inner in _meetings(part):
        lines = runs[one].line, runs[two].line
        mine, other = (height_at(lines[0], here), one), (height_at(lines[1], there), two)
        (low, lower), (high, higher) = (other, mine) if inner else sorted((mine, other))
        if high - low > part.joint_mm and any(len({up for _, up in line}) > 1 for line in lines):
            what = f"{lower} is {part.said(low)} high where it meets {higher}, and that {part.said(high)}"
            todo = f"give both one height there, or let an engineer say how {higher} is held above"
            yield f"{what}: {todo}."


def _meetings(part: WallPart) -> Iterator[tuple[tuple[str, float], tuple[str, float], bool]]:
    """Every two runs that meet, each with the place along it, and whether the first is an inner wall."""
    around = (*part.outline, *part.outline[: int(part.closed)])
    for one, two in itertools.pairwise(around):
        yield (one.name, one.length_mm), (two.name, 0.0), False
    for inner in part.inner_walls:
        yield (inner.name, 0.0), (inner.from_run, inner.at_mm), True
        if inner.to is not None and inner.to_at_mm is not None:
            yield (inner.name, inner.length_mm), (inner.to, inner.to_at_mm), True


def _corners(found: Sequence[Found]) -> Iterator[str]:
    mitred = [one.stretch.name for one in found if one.stretch.end.is_mitred]
    if mitred:
        flat = f"flatter than {units.show_angle(FLATTEST_DEG)}, at the end of {', '.join(mitred)}"
        why = "blocks bonded through them would break at their tips"
        yield f"Corners {flat}, are mitred, not bonded, for {why}: ties are {ENGINEER}."


def _engineer(part: WallPart, found: Sequence[Found], blocks: Sequence[Laid]) -> Iterator[str]:
    beams = any(block.role is Role.RING_BEAM for block in blocks)
    over = any(one.over for run in found for one in run.holes)
    bearing = part.said(math.ceil(part.least_bearing_mm / part.step_mm - EPS_MM) * part.step_mm)
    what = [f"lintels, with a bearing of at least {bearing} each side,"] * over
    what += ["ring beams"] * beams
    troughs = ", the width and depth of their troughs too" if beams or (over and part.lintel == "trough") else ""
    if what:
        yield f"{CAUTION} {' and '.join(what)} are {ENGINEER}{troughs}."
