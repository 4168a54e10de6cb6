"""Walls that lie in one another, whose blocks would be counted twice."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from blockrun.errors import BadInput
from blockrun.order.drawings.legs import Building, Leg
from blockrun.order.drawings.plane import CLOSE_MM, Line, dot, left_of, move
from blockrun.order.drawings.sketch import Outline


def refuse_doubled(outlines: Sequence[Outline]) -> None:
    """Refuse a line that lies on another.

    Raises
    ------
    BadInput : naming both.
    """
    first: dict[Line, str] = {}
    faults: list[BadInput] = []
    for outline in outlines:
        other = first.setdefault(outline.points, outline.label)
        if other != outline.label:
            what = f"{outline.label} is drawn twice; {other} is the same"
            faults.append(BadInput(what, "Take one of them out of the drawing.", name="drawing"))
    if faults:
        raise BadInput.of(faults)


def refuse_overlaps(buildings: Sequence[Building], thickness: float) -> None:
    """Refuse walls that lie in one another other than at a corner.

    Raises
    ------
    BadInput : naming each pair.
    """
    pairs = itertools.combinations(_pieces(buildings), 2)
    found = {
        tuple(sorted((one, other)))
        for (group, one, leg), (other_group, other, other_leg) in pairs
        if group != other_group and _overlap(leg, other_leg, thickness)
    }
    faults = [
        BadInput(f"{one} and {other} cross", "End one of them at the other in the drawing.", name="drawing")
        for one, other in sorted(found)
    ]
    if faults:
        raise BadInput.of(faults)


def _pieces(buildings: Sequence[Building]) -> Iterator[tuple[int, str, Leg]]:
    """Every straight run, with a number that runs share that may lie in one another: those of one outline."""
    numbers = itertools.count()
    for building in buildings:
        number = next(numbers)
        yield from ((number, building.label, leg) for leg in building.legs)
        yield from ((next(numbers), tee.label, tee.leg) for tee in building.tees)


def _overlap(one: Leg, other: Leg, thickness: float) -> bool:
    """Whether two runs have more than a hair of the plan in common: no line of theirs parts them."""
    corners, others = _corners(one, thickness), _corners(other, thickness)
    for way in (one.way, left_of(one.way), other.way, left_of(other.way)):
        here, there = [dot(way, point) for point in corners], [dot(way, point) for point in others]
        if min(max(here), max(there)) - max(min(here), min(there)) <= CLOSE_MM:
            return False
    return True


def _corners(leg: Leg, thickness: float) -> Line:
    inside = left_of(leg.way)
    return leg.start, leg.end, move(leg.end, inside, thickness), move(leg.start, inside, thickness)
