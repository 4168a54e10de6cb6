"""Points and lines on the plan, in mm; x to the right, y up, turns anti-clockwise."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Final

Point = tuple[float, float]
Line = tuple[Point, ...]

CLOSE_MM: Final = 5.0
"""How far drawn things may be from where they should be: plans are drawn to the centimetre (our choice)."""
_STRAIGHT: Final = 1e-3
_GRAIN: Final = 3


def minus(one: Point, other: Point) -> Point:
    """The way from the other point to the one."""
    return one[0] - other[0], one[1] - other[1]


def move(point: Point, way: Point, by: float) -> Point:
    """A point moved so many times along a way."""
    return point[0] + way[0] * by, point[1] + way[1] * by


def dot(one: Point, other: Point) -> float:
    """Scalar product: how far one goes along the other, times its length."""
    return one[0] * other[0] + one[1] * other[1]


def cross(one: Point, other: Point) -> float:
    """Vector product: more than nought where the other turns left of the one."""
    return one[0] * other[1] - one[1] * other[0]


def unit(start: Point, end: Point) -> Point:
    """The direction from start to end, 1 long."""
    x, y = minus(end, start)
    length = math.hypot(x, y)
    return x / length, y / length


def left_of(way: Point) -> Point:
    """A direction turned a quarter to the left."""
    return -way[1], way[0]


def turn_deg(one: Point, other: Point) -> float:
    """Angle from one direction to the other; left is more than nought."""
    return math.degrees(math.atan2(cross(one, other), dot(one, other)))


def area(points: Sequence[Point]) -> float:
    """Area of a closed line, mm2; less than nought when it goes clockwise (shoelace formula)."""
    return sum(cross(one, other) for one, other in zip(points, [*points[1:], points[0]], strict=True)) / 2


def contains(points: Sequence[Point], point: Point) -> bool:
    """Whether a point lies inside a closed line: a ray from it crosses the line an odd number of times."""
    inside = False
    for (x1, y1), (x2, y2) in zip(points, [*points[1:], points[0]], strict=True):
        if (y1 > point[1]) != (y2 > point[1]) and point[0] < (x2 - x1) * (point[1] - y1) / (y2 - y1) + x1:
            inside = not inside
    return inside


def crossing(one: Point, way: Point, other: Point, other_way: Point) -> Point | None:
    """Where two endless lines cross; None where they are parallel."""
    turn = cross(way, other_way)
    if abs(turn) < _STRAIGHT:
        return None
    return move(one, way, cross(minus(other, one), other_way) / turn)


def tidy(points: Sequence[Point], scale: float = 1.0) -> Line:
    """The corners of a closed line in mm, anti-clockwise from the lowest, of these the one most to the left.

    Parameters
    ----------
    scale : mm in a unit of the points.

    Notes
    -----
    Rounded to a micrometre, so that the unit of a drawing leaves no trace; corners that are none are left out.
    """
    line = [(round(x * scale, _GRAIN), round(y * scale, _GRAIN)) for x, y in points]
    line = [point for index, point in enumerate(line) if math.dist(point, line[index - 1]) > _STRAIGHT]
    line = [point for index, point in enumerate(line) if _is_corner(line, index)]
    if len(line) < 3:
        return ()
    if area(line) < 0:
        line.reverse()
    first = line.index(min(line, key=lambda point: (point[1], point[0])))
    return (*line[first:], *line[:first])


def _is_corner(line: Sequence[Point], index: int) -> bool:
    before, here, after = line[index - 1], line[index], line[(index + 1) % len(line)]
    one, other = unit(before, here), unit(here, after)
    return dot(one, other) < 0 or abs(cross(one, other)) > _STRAIGHT


def beside(line: Line, by: float, *, closed: bool) -> Line:
    """A line so far to the left of another (less than nought: to the right), its corners mitred."""
    ways = [unit(one, other) for one, other in itertools.pairwise([*line, line[0]] if closed else line)]
    if closed:
        pairs = list(zip([ways[-1], *ways[:-1]], ways, strict=True))
    else:
        pairs = [(ways[0], ways[0]), *itertools.pairwise(ways), (ways[-1], ways[-1])]
    moved: list[Point] = []
    for point, (before, after) in zip(line, pairs, strict=True):
        one, other = move(point, left_of(before), by), move(point, left_of(after), by)
        moved.append(crossing(one, before, other, after) or other)
    return tuple(moved)
