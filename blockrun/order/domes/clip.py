"""Flat pieces: a convex polygon cut by half-planes, and what is left of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

Point = tuple[float, float]
HalfPlane = tuple[float, float, float]
"""a, b, c: points with a x + b y <= c."""

_TOLERANCE: Final = 1e-6


def clipped(polygon: Sequence[Point], half_planes: Iterable[HalfPlane]) -> list[Point]:
    """The part of a convex polygon within all half-planes; empty when there is none."""
    kept = list(polygon)
    for a, b, c in half_planes:
        kept = _clipped_once(kept, a, b, c)
        if area(kept) < _TOLERANCE:
            return []
    return kept


def area(polygon: Sequence[Point]) -> float:
    """Area of a polygon counted anti-clockwise; negative clockwise."""
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in _sides(polygon)) / 2


def narrowest(polygon: Sequence[Point]) -> float:
    """The least width of a convex polygon counted anti-clockwise: square to one of its sides."""
    sides = [side for side in _sides(polygon) if math.dist(*side) > _TOLERANCE]
    return min((max(_left_of(side, point) for point in polygon) for side in sides), default=0.0)


def within(polygon: Sequence[Point], point: Point, tolerance: float) -> bool:
    """Whether a point is in a convex polygon, or no further from it than the tolerance."""
    return bool(polygon) and all(_left_of(side, point) >= -tolerance for side in _sides(polygon))


def left_over(whole: Sequence[Point], part: Sequence[Point]) -> list[Point]:
    """What is left of a convex polygon when a convex part of it is taken out, as one outline.

    Each run of the part's sides through the inside of the whole bounds one piece: back along the run, then on round
    the whole until the run's end. Several pieces, or a hole, are joined by bridges of no width.
    """
    if not part:
        return list(whole)
    runs = _runs_inside(whole, part)
    if runs is None:
        return [*whole, whole[0], *reversed(part), part[-1]]
    pieces = [[*reversed(run), *_round(whole, run[0], run[-1])] for run in runs]
    if len(pieces) == 1:
        return pieces[0]
    there = [point for piece in pieces for point in (*piece, piece[0])]
    return there + [piece[0] for piece in reversed(pieces[1:-1])]


def _clipped_once(polygon: Sequence[Point], a: float, b: float, c: float) -> list[Point]:
    kept: list[Point] = []
    for one, other in _sides(polygon):
        over_one, over_other = a * one[0] + b * one[1] - c, a * other[0] + b * other[1] - c
        if over_one <= 0:
            kept.append(one)
        if over_one * over_other < 0:
            share = over_one / (over_one - over_other)
            kept.append((one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])))
    return kept


def _runs_inside(whole: Sequence[Point], part: Sequence[Point]) -> list[list[Point]] | None:
    """Runs of the part's sides that are not on the edge of the whole; None when all of them are inside."""
    sides = [side for side in _sides(part) if math.dist(*side) > _TOLERANCE]
    inside = [_place(whole, ((x0 + x1) / 2, (y0 + y1) / 2)) is None for (x0, y0), (x1, y1) in sides]
    if all(inside):
        return None
    first = inside.index(False)
    runs: list[list[Point]] = []
    open_run = False
    for offset in range(1, len(sides) + 1):
        side = sides[(first + offset) % len(sides)]
        if not inside[(first + offset) % len(sides)]:
            open_run = False
        elif open_run:
            runs[-1].append(side[1])
        else:
            runs.append(list(side))
            open_run = True
    return runs


def _round(whole: Sequence[Point], start: Point, end: Point) -> list[Point]:
    """Corners of the whole passed on the way round from one point of its edge to another."""
    n, at, until = len(whole), _place(whole, start), _place(whole, end)
    if at is None or until is None:
        return []
    until += n if until <= at else 0
    return [whole[step % n] for step in range(math.floor(at) + 1, math.ceil(until))]


def _place(polygon: Sequence[Point], point: Point) -> float | None:
    """Where on the edge a point is: the number of the side plus the share along it; None off the edge."""
    for number, (one, other) in enumerate(_sides(polygon)):
        length = math.dist(one, other)
        if length < _TOLERANCE or abs(_left_of((one, other), point)) > 1e-4:
            continue
        along = ((point[0] - one[0]) * (other[0] - one[0]) + (point[1] - one[1]) * (other[1] - one[1])) / length**2
        if -1e-9 <= along < 1 - 1e-9:
            return number + max(0.0, along)
    return None


def _left_of(side: tuple[Point, Point], point: Point) -> float:
    """How far a point is to the left of a line."""
    (x0, y0), (x1, y1) = side
    length = math.dist(*side) or 1.0
    return ((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / length


def _sides(polygon: Sequence[Point]) -> Iterable[tuple[Point, Point]]:
    return zip(polygon, [*polygon[1:], *polygon[:1]], strict=True)
