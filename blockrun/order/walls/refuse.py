"""What a wall cannot be: values that are each right and wrong together."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.order.laid import Laid
from blockrun.order.walls.faults import Within, fault_at
from blockrun.order.walls.heights import LEAST_SHARE
from blockrun.order.walls.refuse_openings import opening_faults
from blockrun.order.walls.refuse_outline import inner_faults, outline_faults
from blockrun.order.walls.runs import Stretch, resolve, ways
from blockrun.site.values import THINNEST_BLOCK_MM

if TYPE_CHECKING:
    from blockrun.order.walls.part import Straight, WallPart

_EPS_MM: Final = 1e-6
MOST_BLOCKS: Final = 40_000
"""Blocks of one wall above which a unit is likely to be wrong (our choice)."""


def find_faults(wall: WallPart) -> Iterator[BadInput]:
    """Every fault of a wall; those of its runs only once its own measures are sound."""
    found = [*_measures(wall), *_kind(wall)]
    found = found or list(_size(wall))
    yield from found
    if not found:
        yield from _runs(wall)
        yield from outline_faults(wall)
        yield from inner_faults(wall)


def check_blocks(wall: WallPart, blocks: Sequence[Laid]) -> None:
    """Refuse a wall that comes down to no block at all, or to one too thin to be cast.

    Raises
    ------
    BadInput : without its place, which only the file knows.
    """
    if not blocks:
        what = f"no block is left of {wall.name}: openings take all of it, or its top is too low for one"
        raise BadInput(what, "Write smaller openings or a higher top, or take the wall out.")
    thinnest = min(blocks, key=_thinnest_mm)
    if round(_thinnest_mm(thinnest), 1) < THINNEST_BLOCK_MM:
        names = [straight.name for _, straight, _ in straights(wall)]
        run = f"{names[thinnest.face - 1]}, " if wall.outline and thinnest.face <= len(names) else ""
        where = f"{run}course {thinnest.course} at {wall.said(max(0.0, thinnest.corners[0][0]))}"
        least = wall.said(THINNEST_BLOCK_MM)
        what = f"a block of {wall.name} would be only {wall.said(_thinnest_mm(thinnest))}, in {where}"
        is_short = _thinnest_mm(thinnest) == thinnest.shape.length_mm
        todo = "Move an opening or a corner." if is_short else "Write a thicker block, or a thicker pier."
        raise BadInput(what, f"{todo} The least is {least}, our choice: thinner ones break in the hand.")


def _thinnest_mm(block: Laid) -> float:
    return min(block.shape.length_mm, block.shape.height_mm, block.shape.thickness_mm)


def _measures(wall: WallPart) -> Iterator[BadInput]:
    length, height, _ = wall.block
    if wall.joint_mm >= min(length, height):
        what = f"the joint is no smaller than the block, {wall.said(min(length, height))}"
        yield fault_at((), "joint", what, "Write a joint such as 10 mm.")
    elif wall.give_mm >= wall.joint_mm > 0:
        yield fault_at(
            (), "joint_give", "joints that close so far are no joints", f"Write less than {wall.said(wall.joint_mm)}."
        )
    if wall.least_mm > length / 2:
        what = (
            f"the shortest block is more than half of a block, {wall.said(length / 2)}, so that no half would be laid"
        )
        yield fault_at((), "least_length", what, f"Write up to {wall.said(length / 2)}.")
    most = (length - wall.joint_mm) / (3 if wall.bond == "third" else 2)
    if wall.overlap_mm > most:
        gives = f"a {wall.bond} bond of this block gives, {wall.said(most)}"
        what = f"an overlap of {wall.said(wall.overlap_mm)} is more than {gives}"
        yield fault_at((), "overlap", what, "Write less, or quarter.")
    least_height = wall.joint_mm + LEAST_SHARE * height
    if wall.height_mm < least_height:
        what = f"the wall is lower than the lowest course and its joint, {wall.said(least_height)}"
        yield fault_at((), "height", what, f"Write at least {wall.said(math.ceil(least_height))}, or a lower block.")
    most_courses = math.ceil(wall.height_mm / (height + wall.joint_mm) - 1e-6)
    if wall.ring_beams and max(wall.ring_beams) > most_courses:
        what = f"the wall has no course {max(wall.ring_beams)}"
        yield fault_at((), "ring_beams", what, f"Write courses up to {most_courses}, or top.")


def _size(wall: WallPart) -> Iterator[BadInput]:
    """Walls that are too small for a block, or so large that a unit is likely to be wrong."""
    length, height, _ = wall.block
    total = 0.0
    for within, straight, along in straights(wall):
        rise = max([wall.height_mm + (straight.gable_mm or 0.0), *(top.height_mm for top in straight.tops)])
        total += along * rise / ((length + wall.joint_mm) * (height + wall.joint_mm))
        if along < wall.least_mm:
            what = f"{straight.name} is shorter than the shortest block, {wall.said(wall.least_mm)}"
            yield fault_at(within, "length", what, "Write a longer wall, or a least_length.")
    if total > MOST_BLOCKS:
        what = f"the wall would take some {total:.0f} blocks"
        yield fault_at((), "block", what, "Look at the units of its length, height and block, or write several walls.")


def _kind(wall: WallPart) -> Iterator[BadInput]:
    if (wall.length_mm is None) == (not wall.outline):
        key = "outline" if wall.outline else "length"
        what = "length and outline are both given" if wall.outline else "length is missing"
        yield fault_at((), key, what, "Write length for one straight wall, or outline for a building.")
    if not wall.outline:
        if wall.inner_walls:
            yield fault_at(
                (), "inner_walls", "inner walls need an outline to meet", "Write an outline, or a wall each."
            )
        return
    for key in ("openings", "tops", "piers", "gable"):
        if getattr(wall, "gable_mm" if key == "gable" else key):
            yield fault_at((), key, f"{key} stands beside an outline", f"Write {key} in the run it belongs to.")


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
    stretches = resolve(wall)
    levels = ways(wall, stretches)
    for number, ((within, straight, length), stretch) in enumerate(zip(straights(wall), stretches, strict=True)):
        if within and straight.name in names[:number]:
            key = "run" if within[0] == "outline" else "inner"
            yield fault_at(within, key, f"two runs are called {straight.name}", "Give each its own name.")
        faults = [*_tops(wall, within, straight, length)]
        yield from faults or opening_faults(wall, within, straight, stretch, levels)
        yield from _piers(wall, within, straight, stretch)


def _piers(wall: WallPart, within: Within, straight: Straight, stretch: Stretch) -> Iterator[BadInput]:
    length = stretch.length_mm
    first, last = _between_corners(stretch)
    for index, pier in enumerate(straight.piers):
        here, far = (*within, "piers", index), pier.at_mm + pier.width_mm
        if far > length:
            what = f"the pier ends beyond the wall, which is {wall.said(length)} long"
            yield fault_at(here, "at", what, f"Write up to {wall.said(length - pier.width_mm)}, or a smaller width.")
        elif pier.at_mm < first - _EPS_MM or far > last + _EPS_MM:
            what = f"the pier stands in the corner of {stretch.name}"
            yield fault_at(here, "at", what, f"Let it lie from {wall.said(first)} to {wall.said(last)}.")
        if any(pier.at_mm < other.at_mm + other.width_mm and other.at_mm < far for other in straight.piers[:index]):
            yield fault_at(here, "at", "two piers overlap", "Move one of them.")
        for opening in straight.openings:
            if pier.at_mm < opening.to_mm and opening.from_mm < far:
                yield fault_at(here, "at", f"the pier stands in the opening {opening.name}", "Move one of them.")
        if any(pier.at_mm < one.far_mm and one.near_mm < far for one in stretch.passages):
            yield fault_at(here, "at", "the pier stands where an inner wall meets the run", "Move one of them.")


def _between_corners(stretch: Stretch) -> tuple[float, float]:
    """From where to where the inside of a run is free of the runs it meets; at an inside corner all of it is."""
    start, end = stretch.start, stretch.end
    first = start.at_mm + start.other_mm - start.behind_mm if start.meets and start.at_mm >= 0 else 0.0
    last = end.at_mm - end.other_mm + end.behind_mm if end.meets and end.at_mm <= stretch.length_mm else math.inf
    return max(0.0, first), min(stretch.length_mm, last)


def _tops(wall: WallPart, within: Within, straight: Straight, length: float) -> Iterator[BadInput]:
    if not straight.tops:
        return
    places = sorted(top.at_mm for top in straight.tops)
    if straight.gable_mm is not None:
        yield fault_at(within, "gable", "a gable and tops are both given", "Take one of them out.")
    if any(one == other for one, other in itertools.pairwise(places)):
        yield fault_at(within, "tops", "two heights are given for one place", "Take one of them out.")
    if len(places) < 2 or places[0] > 0 or abs(places[-1] - length) > 1:
        what = "the heights do not go from end to end"
        todo = f"Write a height at 0 m, one at {wall.said(length)}, and any between."
        yield fault_at(within, "tops", what, todo)
