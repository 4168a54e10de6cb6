"""What a wall cannot be: values that are each right and wrong together."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.order.said import mm
from blockrun.order.walls.heights import LEAST_SHARE
from blockrun.order.walls.runs import Stretch, resolve
from blockrun.order.walls.tops import Line, height_at

if TYPE_CHECKING:
    from blockrun.order.walls.part import InnerWall, Opening, Straight, WallPart

Within = tuple[str | int, ...]
CLOSES_MM: Final = 5.0
"""How far from its start a closed outline may end: sketches are drawn to the centimetre (our choice)."""


def find_faults(wall: WallPart) -> Iterator[BadInput]:
    """Every fault of a wall; those of its runs only once its own measures are sound."""
    found = [*_measures(wall), *_kind(wall)]
    found = found or list(_size(wall))
    yield from found
    if not found:
        yield from _runs(wall)
        yield from _outline(wall)
        yield from _inner(wall)


MOST_BLOCKS: Final = 40_000
"""Blocks of one wall above which a unit is likely to be wrong (our choice)."""


def _fault(within: Within, key: str, what: str, todo: str) -> BadInput:
    fault = BadInput(what, todo, name=key)
    fault.within = within
    return fault


def _measures(wall: WallPart) -> Iterator[BadInput]:
    length, height, _ = wall.block
    if wall.joint_mm >= min(length, height):
        what = f"the joint is no smaller than the block, {mm(min(length, height))}"
        yield _fault((), "joint", what, "Write a joint such as 10 mm.")
    elif wall.give_mm >= wall.joint_mm > 0:
        yield _fault(
            (), "joint_give", "joints that close so far are no joints", f"Write less than {mm(wall.joint_mm)}."
        )
    if wall.least_mm > length / 2:
        what = f"the shortest block is more than half of a block, {mm(length / 2)}, so that no half would be laid"
        yield _fault((), "least_length", what, f"Write up to {mm(length / 2)}.")
    most = (length - wall.joint_mm) / (3 if wall.bond == "third" else 2)
    if wall.overlap_mm > most:
        what = f"an overlap of {mm(wall.overlap_mm)} is more than a {wall.bond} bond of this block gives, {mm(most)}"
        yield _fault((), "overlap", what, "Write less, or quarter.")
    least_height = wall.joint_mm + LEAST_SHARE * height
    if wall.height_mm < least_height:
        what = f"the wall is lower than the lowest course and its joint, {mm(least_height)}"
        yield _fault((), "height", what, f"Write at least {mm(math.ceil(least_height))}, or a lower block.")
    most_courses = math.ceil(wall.height_mm / (height + wall.joint_mm) - 1e-6)
    if wall.ring_beams and max(wall.ring_beams) > most_courses:
        what = f"the wall has no course {max(wall.ring_beams)}"
        yield _fault((), "ring_beams", what, f"Write courses up to {most_courses}, or top.")


def _size(wall: WallPart) -> Iterator[BadInput]:
    """Walls that are too small for a block, or so large that a unit is likely to be wrong."""
    length, height, _ = wall.block
    total = 0.0
    for within, straight, along in straights(wall):
        rise = max([wall.height_mm + (straight.gable_mm or 0.0), *(top.height_mm for top in straight.tops)])
        total += along * rise / ((length + wall.joint_mm) * (height + wall.joint_mm))
        if along < wall.least_mm:
            what = f"{straight.name} is shorter than the shortest block, {mm(wall.least_mm)}"
            yield _fault(within, "length", what, "Write a longer wall, or a least_length.")
    if total > MOST_BLOCKS:
        what = f"the wall would take some {total:.0f} blocks"
        yield _fault((), "block", what, "Look at the units of its length, height and block, or write several walls.")


def _kind(wall: WallPart) -> Iterator[BadInput]:
    if (wall.length_mm is None) == (not wall.outline):
        key = "outline" if wall.outline else "length"
        what = "length and outline are both given" if wall.outline else "length is missing"
        yield _fault((), key, what, "Write length for one straight wall, or outline for a building.")
    if not wall.outline:
        if wall.inner_walls:
            yield _fault((), "inner_walls", "inner walls need an outline to meet", "Write an outline, or a wall each.")
        return
    for key in ("openings", "tops", "piers", "gable"):
        if getattr(wall, "gable_mm" if key == "gable" else key):
            yield _fault((), key, f"{key} stands beside an outline", f"Write {key} in the run it belongs to.")


def straights(wall: WallPart) -> Iterator[tuple[Within, Straight, float]]:
    """Each straight run with its path in the file and its length."""
    if wall.length_mm is not None:
        yield (), wall, wall.length_mm
    for index, run in enumerate(wall.outline):
        yield ("outline", index), run, run.length_mm
    for index, inner in enumerate(wall.inner_walls):
        yield ("inner_walls", index), inner, inner.length_mm


def _runs(wall: WallPart) -> Iterator[BadInput]:
    names = [straight.name for _, straight, _ in straights(wall)]
    for number, ((within, straight, length), stretch) in enumerate(zip(straights(wall), resolve(wall), strict=True)):
        if within and straight.name in names[:number]:
            key = "run" if within[0] == "outline" else "inner"
            yield _fault(within, key, f"two runs are called {straight.name}", "Give each its own name.")
        faults = [*_tops(wall, within, straight, length)]
        yield from faults or _openings(wall, within, straight, stretch)
        yield from _piers(within, straight, length)


def _piers(within: Within, straight: Straight, length: float) -> Iterator[BadInput]:
    for index, pier in enumerate(straight.piers):
        here, far = (*within, "piers", index), pier.at_mm + pier.width_mm
        if far > length:
            what = f"the pier ends beyond the wall, which is {mm(length)} long"
            yield _fault(here, "at", what, f"Write up to {mm(length - pier.width_mm)}, or a smaller width.")
        for opening in straight.openings:
            if pier.at_mm < opening.to_mm and opening.from_mm < far:
                yield _fault(here, "at", f"the pier stands in the opening {opening.name}", "Move one of them.")


def _tops(wall: WallPart, within: Within, straight: Straight, length: float) -> Iterator[BadInput]:
    if not straight.tops:
        return
    places = sorted(top.at_mm for top in straight.tops)
    if straight.gable_mm is not None:
        yield _fault(within, "gable", "a gable and tops are both given", "Take one of them out.")
    if any(one == other for one, other in itertools.pairwise(places)):
        yield _fault(within, "tops", "two heights are given for one place", "Take one of them out.")
    if len(places) < 2 or places[0] > 0 or abs(places[-1] - length) > 1:
        what = "the heights do not go from end to end"
        todo = f"Write a height at 0 m, one at {mm(length)}, and any between."
        yield _fault(within, "tops", what, todo)


def _openings(wall: WallPart, within: Within, straight: Straight, stretch: Stretch) -> Iterator[BadInput]:
    sound: list[Opening] = []
    for index, opening in enumerate(straight.openings):
        here = (*within, "openings", index)
        if opening.name in [other.name for other in straight.openings[:index]]:
            yield _fault(here, "name", f"two openings are called {opening.name}", "Give each its own name.")
        fault = (
            _outside(here, opening, stretch.length_mm)
            or _in_a_corner(here, opening, stretch, wall.least_mm)
            or _too_high(here, opening, stretch.line)
            or _overlapping(here, opening, sound)
        )
        if fault:
            yield fault
        else:
            sound.append(opening)


def _outside(here: Within, opening: Opening, length: float) -> BadInput | None:
    if opening.width_mm > length:
        what = f"{opening.name} is wider than the wall, which is {mm(length)} long"
        return _fault(here, "width", what, f"Write a width up to {mm(length - opening.from_mm)}.")
    if opening.to_mm > length + 1e-6:
        what = f"{opening.name} ends {mm(opening.to_mm - length)} beyond the end of the wall"
        return _fault(here, "from", what, f"Write from up to {mm(length - opening.width_mm)}, or a smaller width.")
    return None


def _in_a_corner(here: Within, opening: Opening, stretch: Stretch, least: float) -> BadInput | None:
    """A block must find room between an opening and another run, in the courses in which that goes through."""
    first = stretch.start.at_mm + stretch.start.back_mm + least if stretch.start.meets else 0.0
    last = stretch.end.at_mm - stretch.end.back_mm - least if stretch.end.meets else stretch.length_mm
    if first - 1e-6 <= opening.from_mm and opening.to_mm <= last + 1e-6:
        return None
    what = f"{opening.name} leaves no room for a block beside the corner of {stretch.name}"
    return _fault(here, "from", what, f"Let it lie from {mm(first)} to {mm(last)}.")


def _too_high(here: Within, opening: Opening, line: Line) -> BadInput | None:
    places = [opening.from_mm, opening.to_mm, *(at for at, _ in line if opening.from_mm < at < opening.to_mm)]
    room = min(height_at(line, place) for place in places)
    if opening.head_mm <= room + 1e-6:
        return None
    if opening.sill_mm >= room:
        return _fault(here, "sill", f"the sill of {opening.name} is over the wall, {mm(room)} high there", "Lower it.")
    what = f"the head of {opening.name}, {mm(opening.head_mm)} above the floor, is over the wall, {mm(room)} high there"
    return _fault(here, "height", what, f"Write a height up to {mm(room - opening.sill_mm)}, or a lower sill.")


def _overlapping(here: Within, opening: Opening, others: Sequence[Opening]) -> BadInput | None:
    for other in others:
        beside = opening.to_mm <= other.from_mm or other.to_mm <= opening.from_mm
        if not beside and opening.sill_mm < other.head_mm and other.sill_mm < opening.head_mm:
            what = f"{opening.name} and {other.name} overlap"
            todo = f"{other.name} takes {mm(other.from_mm)} to {mm(other.to_mm)}: move one, or make it smaller."
            return _fault(here, "from", what, todo)
    return None


def _outline(wall: WallPart) -> Iterator[BadInput]:
    if not wall.outline:
        return
    if wall.closed and len(wall.outline) < 3:
        yield _fault((), "outline", "a closed outline has at least three runs", "Write closed: false, or more runs.")
        return
    least = 2 * (wall.block[2] + wall.joint_mm) + wall.least_mm
    for index, run in enumerate(wall.outline):
        if run.length_mm < least:
            what = f"{run.name} is too short to have a corner at each end"
            yield _fault(("outline", index), "length", what, f"Write at least {mm(least)}.")
    if wall.closed:
        yield from _closes(wall)


def _closes(wall: WallPart) -> Iterator[BadInput]:
    x = y = heading = 0.0
    for run in wall.outline:
        x += run.length_mm * math.cos(math.radians(heading))
        y += run.length_mm * math.sin(math.radians(heading))
        heading += (180 - run.angle_deg) * (1 if run.corner == "outside" else -1)
    if abs(heading - 360) > 0.1:
        what = f"the corners of the outline turn {_deg(heading)} in all, and once round is 360 deg"
        yield _fault((), "outline", what, "Walk round the building anti-clockwise; mend a corner or an angle.")
    elif math.hypot(x, y) > CLOSES_MM:
        what = f"the outline ends {mm(math.hypot(x, y))} from where it starts"
        yield _fault((), "outline", what, "Correct the length of a run, or write closed: false.")


def _inner(wall: WallPart) -> Iterator[BadInput]:
    runs = {run.name: run for run in wall.outline}
    for index, inner in enumerate(wall.inner_walls):
        for key, place, host, at in (
            ("from", "at", inner.from_run, inner.at_mm),
            ("to", "to_at", inner.to, inner.to_at_mm),
        ):
            here = ("inner_walls", index)
            if host is None:
                continue
            if host not in runs:
                yield _fault(here, key, f"there is no run {host}", f"Write one of {', '.join(runs)}.")
            elif at is None:
                yield _fault(here, key, f"where on {host} it ends is missing", f"Write {place}, a length.")
            else:
                yield from _meets(wall, inner, here, place, host, at)


def _meets(wall: WallPart, inner: InnerWall, here: Within, key: str, host: str, at: float) -> Iterator[BadInput]:
    run = next(run for run in wall.outline if run.name == host)
    clear, far = wall.block[2] + wall.joint_mm, at + wall.block[2]
    if at < clear + wall.least_mm or far > run.length_mm - clear - wall.least_mm:
        what = f"{inner.name} meets {host} too near its end to be bonded"
        low, high = clear + wall.least_mm, run.length_mm - clear - wall.least_mm - wall.block[2]
        yield _fault(here, key, what, f"Write from {mm(low)} to {mm(high)}.")
    for other in wall.inner_walls[: wall.inner_walls.index(inner)]:
        for name, place in ((other.from_run, other.at_mm), (other.to, other.to_at_mm)):
            if name == host and place is not None and abs(place - at) < clear + wall.joint_mm + wall.least_mm:
                what = f"{inner.name} and {other.name} meet {host} too near to each other to be bonded"
                yield _fault(here, key, what, "Move one of them.")
    for opening in run.openings:
        if opening.from_mm < far + wall.joint_mm and at - wall.joint_mm < opening.to_mm:
            yield _fault(here, key, f"{inner.name} meets {host} in its opening {opening.name}", "Move one of them.")


def _deg(angle: float) -> str:
    return units.show(angle, "angle")
