"""What the openings of a run cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.order.walls.faults import Within, fault_at
from blockrun.order.walls.heights import Levels
from blockrun.order.walls.openings import hole
from blockrun.order.walls.runs import Stretch
from blockrun.order.walls.tops import lowest

if TYPE_CHECKING:
    from blockrun.order.walls.part import Opening, Straight, WallPart

_EPS_MM = 1e-6


def opening_faults(
    wall: WallPart, within: Within, straight: Straight, stretch: Stretch, ways: Sequence[Levels]
) -> Iterator[BadInput]:
    """Every opening that is outside its run, in a corner, over its top, or in the way of another one."""
    sound: list[Opening] = []
    for index, opening in enumerate(straight.openings):
        here = (*within, "openings", index)
        if opening.name in [other.name for other in straight.openings[:index]]:
            yield fault_at(here, "name", f"two openings are called {opening.name}", "Give each its own name.")
        fault = (
            _outside(wall, here, opening, stretch)
            or _in_a_corner(wall, here, opening, stretch)
            or _too_high(wall, here, opening, stretch)
            or _overlapping(wall, here, opening, sound)
            or _without_a_lintel(wall, here, opening, sound, stretch, ways)
        )
        if fault:
            yield fault
        else:
            sound.append(opening)


def _outside(wall: WallPart, here: Within, opening: Opening, stretch: Stretch) -> BadInput | None:
    length = stretch.length_mm
    if opening.to_mm <= length + _EPS_MM:
        return None
    what = f"{opening.name} ends {wall.said(opening.to_mm - length)} beyond the end of the wall"
    if opening.width_mm > length:
        what = f"{opening.name} is wider than the wall, which is {wall.said(length)} long"
    first, last = _room(wall, opening, stretch)
    if last - first >= opening.width_mm:
        todo = f"Write from up to {wall.said(last - opening.width_mm)}, or a smaller width."
        return fault_at(here, "from", what, todo)
    if last > opening.from_mm:
        return fault_at(here, "width", what, f"Write a width up to {wall.said(last - opening.from_mm)}.")
    return fault_at(here, "from", what, f"Let it lie from {wall.said(first)} to {wall.said(last)}.")


def _room(wall: WallPart, opening: Opening, stretch: Stretch) -> tuple[float, float]:
    """From where to where an opening may go: between the corners, and a block clear of those beside it."""
    first, last = _between_corners(wall, stretch)
    for other in stretch.openings:
        if other is opening or other.sill_mm >= opening.head_mm or opening.sill_mm >= other.head_mm:
            continue
        if other.from_mm > opening.from_mm:
            last = min(last, other.from_mm - wall.least_mm)
        else:
            first = max(first, other.to_mm + wall.least_mm)
    return first, last


def _between_corners(wall: WallPart, stretch: Stretch) -> tuple[float, float]:
    """A block must find room between an opening and another run, in the courses in which that goes through."""
    least = wall.least_mm
    first = stretch.start.at_mm + stretch.start.takes_mm + least if stretch.start.meets else 0.0
    last = stretch.end.at_mm - stretch.end.takes_mm - least if stretch.end.meets else stretch.length_mm
    return first, last


def _in_a_corner(wall: WallPart, here: Within, opening: Opening, stretch: Stretch) -> BadInput | None:
    first, last = _between_corners(wall, stretch)
    if first - _EPS_MM <= opening.from_mm and opening.to_mm <= last + _EPS_MM:
        return None
    what = f"{opening.name} leaves no room for a block beside the corner of {stretch.name}"
    first, last = _room(wall, opening, stretch)
    return fault_at(here, "from", what, f"Let it lie from {wall.said(first)} to {wall.said(last)}.")


def _too_high(wall: WallPart, here: Within, opening: Opening, stretch: Stretch) -> BadInput | None:
    room = lowest(stretch.line, opening.from_mm, opening.to_mm)
    if opening.head_mm <= room + _EPS_MM:
        return None
    high = f"is over the wall, {wall.said(room)} high there"
    if opening.sill_mm >= room:
        return fault_at(here, "sill", f"the sill of {opening.name} {high}", "Lower it.")
    what = f"the head of {opening.name}, {wall.said(opening.head_mm)} above the floor, {high}"
    return fault_at(here, "height", what, f"Write a height up to {wall.said(room - opening.sill_mm)}, or a lower sill.")


def _overlapping(wall: WallPart, here: Within, opening: Opening, others: Sequence[Opening]) -> BadInput | None:
    for other in others:
        if not _beside(opening, other) and opening.sill_mm < other.head_mm and other.sill_mm < opening.head_mm:
            what = f"{opening.name} and {other.name} overlap"
            takes = f"{wall.said(other.from_mm)} to {wall.said(other.to_mm)}"
            return fault_at(here, "from", what, f"{other.name} takes {takes}: move one, or make it smaller.")
    return None


def _without_a_lintel(
    wall: WallPart,
    here: Within,
    opening: Opening,
    others: Sequence[Opening],
    stretch: Stretch,
    ways: Sequence[Levels],
) -> BadInput | None:
    """Between openings over one another goes a whole course, however the courses lie."""
    for other in others:
        if _beside(opening, other):
            continue
        low, high = sorted((opening, other), key=lambda one: one.sill_mm)
        clear = max(_clear_over(wall, low, high, stretch, way) for way in ways)
        if clear:
            what = f"no whole course is left between {low.name} and {high.name} over it for a lintel"
            todo = f"Write a sill of {high.name} from {wall.said(clear)}, or make them one opening."
            return fault_at(here, "sill", what, todo)
    return None


def _clear_over(wall: WallPart, low: Opening, high: Opening, stretch: Stretch, way: Levels) -> float:
    """Where the higher opening may begin when it begins too low; else nought."""
    lower, upper = (hole(wall, one, way.courses, stretch.line) for one in (low, high))
    clear = way.courses[lower.over - 1].top_mm if lower.over else lower.top_mm
    return clear if clear > upper.bottom_mm + _EPS_MM else 0.0


def _beside(one: Opening, other: Opening) -> bool:
    return one.to_mm <= other.from_mm or other.to_mm <= one.from_mm
