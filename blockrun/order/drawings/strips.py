"""Centre lines of the walls that closed outlines enclose.

An outline of constant width is a wall, or several that meet at corners. Of two outlines, one so far inside the
other, the outer one goes round the outside of a building and the inner one round its inside; one that stands alone and
is wider than any wall is the outside of a building.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.errors import BadInput
from blockrun.order.drawings.plane import CLOSE_MM, Line, Point, beside, contains, cross, dot, minus, unit
from blockrun.order.drawings.sketch import Outline
from blockrun.order.said import mm

_WIDEST: Final = 2.0
"""Of a wall, in thicknesses of the block; what is wider is a building (our choice)."""
_SQUARE: Final = 0.02


@dataclass(frozen=True)
class Chain:
    """Walls that meet at corners: their centre line, and what they were drawn as."""

    label: str
    line: Line
    closed: bool = False


def find_chains(outlines: Sequence[Outline], thickness: float) -> list[Chain]:
    """The walls of outlines.

    Parameters
    ----------
    thickness : of the block, mm.

    Raises
    ------
    BadInput : an outline is thinner or thicker than the block, or lies askew in another.
    """
    chains: list[Chain] = []
    wide: list[Outline] = []
    faults: list[BadInput] = []
    for outline in outlines:
        strip = _strip(outline.points)
        if strip is None or (strip[0] > _WIDEST * thickness and not outline.is_wall):
            wide.append(outline)
        elif abs(strip[0] - thickness) > CLOSE_MM:
            faults.append(_thickness(outline.label, strip[0], thickness))
        else:
            chains.append(Chain(outline.label, strip[1]))
    for outer, inner in _paired(wide, thickness):
        if inner:
            faults.append(_askew(outer, inner, thickness))
        if not _has_room(outer.points, thickness):
            faults.append(_shapeless(outer.label))
            continue
        chains.append(Chain(outer.label, beside(outer.points, thickness / 2, closed=True), closed=True))
    if faults:
        raise BadInput.of(faults)
    return chains


def centre_line(points: Line) -> tuple[float, Line] | None:
    """Width and centre line of a straight wall with two long sides beside each other, its ends square or mitred."""
    if len(points) != 4:
        return None
    found: list[tuple[float, Line]] = []
    for first in range(2):
        one, two, three, four = (*points[first:], *points[:first])
        way = unit(one, two)
        if abs(cross(way, unit(four, three))) <= _SQUARE:
            ends = (_middle(four, one), _middle(two, three))
            width = abs(cross(way, minus(_middle(three, four), one)))
            found += [(width, ends)] if width <= math.dist(*ends) else []
    return min(found, default=None)


def _middle(one: Point, other: Point) -> Point:
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2


def _strip(points: Line) -> tuple[float, Line] | None:
    """Width and centre line of an outline of constant width; of a rectangle, along its longer side."""
    if len(points) % 2 or len(points) < 4:
        return None
    half = len(points) // 2
    found: list[tuple[float, Line]] = []
    for first in range(half):
        turned = (*points[first:], *points[:first])
        right, left = turned[:half], tuple(reversed(turned[half:]))
        width = math.dist(right[0], left[0])
        if _runs_beside(right, left, width):
            found.append((width, beside(right, width / 2, closed=False)))
    return min(found, default=None)


def _runs_beside(right: Line, left: Line, width: float) -> bool:
    """Whether the left line is everywhere so far beside the right one, and both end square."""
    first, last = unit(right[0], right[1]), unit(right[-2], right[-1])
    ends = (dot(unit(right[0], left[0]), first), dot(unit(right[-1], left[-1]), last))
    if max(map(abs, ends)) > _SQUARE:
        return False
    return _same(beside(right, width, closed=False), left)


def _same(one: Line, other: Line) -> bool:
    return all(math.dist(here, there) <= CLOSE_MM for here, there in zip(one, other, strict=True))


def _paired(wide: Sequence[Outline], thickness: float) -> Iterator[tuple[Outline, Outline | None]]:
    """The outside of each building; with an outline that lies in it and should not, if there is one."""
    insides: set[str] = set()
    for outer in wide:
        drawn = beside(outer.points, thickness, closed=True)
        insides |= {inner.label for inner in wide if inner is not outer and _same_ring(drawn, inner.points)}
    lone = [outline for outline in wide if outline.label not in insides]
    for outer in lone:
        drawn = beside(outer.points, thickness, closed=True)
        has_inside = any(_same_ring(drawn, inner.points) for inner in wide)
        within = (inner for inner in lone if inner is not outer and contains(outer.points, inner.points[0]))
        yield outer, None if has_inside else next(within, None)


def _has_room(points: Line, thickness: float) -> bool:
    """Whether walls along the inside of a line leave room between them: all its sides are still there."""
    inside = beside(points, thickness, closed=True)
    ends = zip(points, (*points[1:], points[0]), inside, (*inside[1:], inside[0]), strict=True)
    return all(dot(minus(two, one), minus(four, three)) > 0 for one, two, three, four in ends)


def _same_ring(one: Line, other: Line) -> bool:
    """Whether two closed lines are the same, wherever each begins."""
    if len(one) != len(other):
        return False
    return any(_same(one, (*other[first:], *other[:first])) for first in range(len(other)))


def _thickness(label: str, drawn: float, thickness: float) -> BadInput:
    what = "thinner" if drawn < thickness else "thicker"
    return BadInput(
        f"{label} is {mm(drawn)} wide: {what} than the block, {mm(thickness)}",
        "Draw the wall as thick as the block, or write a block as thick as the wall.",
        name="drawing",
    )


def _shapeless(label: str) -> BadInput:
    return BadInput(
        f"{label} is neither walls of one width nor the outside of a building",
        "Draw each wall as a rectangle, or the building by its outside; look at the unit of the drawing, too.",
        name="drawing",
    )


def _askew(outer: Outline, inner: Outline, thickness: float) -> BadInput:
    gap = min(
        abs(cross(unit(one, other), minus(inner.points[0], one)))
        for one, other in zip(outer.points, (*outer.points[1:], outer.points[0]), strict=True)
    )
    if _same_ring(beside(outer.points, gap, closed=True), inner.points):
        return _thickness(f"the wall between {outer.label} and {inner.label}", gap, thickness)
    return BadInput(
        f"{inner.label} lies in {outer.label}, and not everywhere {mm(thickness)} from it",
        "Draw the inside of the building one thickness of the block from its outside, or each wall by itself.",
        name="drawing",
    )
