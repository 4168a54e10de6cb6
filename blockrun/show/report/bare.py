"""Edges of blocks beside which nothing stands: their faces are seen, those in joints are not."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from blockrun.order.laid import Point

_CELL_MM: Final = 250.0
_BESIDE_MM: Final = 30.0
"""So far from an edge another block is looked for: over a joint, and not over a low block (our choice)."""
_PLACES: Final = (0.2, 0.5, 0.8)
_BARE: Final = 2
"""Places along an edge, and of how many of them nothing stands beside a bare one; one may lie on a joint."""

Outline = Sequence[Point]


def bare_edges(outlines: Sequence[Outline], also_there: Sequence[Outline] = ()) -> list[list[int]]:
    """Numbers of the bare edges of each outline; edge i goes from corner i to the next.

    Parameters
    ----------
    outlines : of the blocks of one face, anti-clockwise.
    also_there : of what stands among them, such as the ends of other walls.
    """
    cells: dict[tuple[int, int], list[Outline]] = defaultdict(list)
    for outline in (*outlines, *also_there):
        for cell in _cells(outline):
            cells[cell].append(outline)

    def is_bare(one: Point, other: Point) -> bool:
        places = _beside(one, other)
        free = (not any(_holds(outline, place) for outline in cells[_cell(place)]) for place in places)
        return sum(free) >= _BARE

    return [[i for i, edge in enumerate(_edges(outline)) if is_bare(*edge)] for outline in outlines]


def _edges(outline: Outline) -> Iterator[tuple[Point, Point]]:
    return pairwise((*outline, outline[0]))


def _cell(point: Point) -> tuple[int, int]:
    return math.floor(point[0] / _CELL_MM), math.floor(point[1] / _CELL_MM)


def _cells(outline: Outline) -> Iterator[tuple[int, int]]:
    """Those that the box round an outline comes to."""
    xs, ys = zip(*outline, strict=True)
    (left, low), (right, high) = _cell((min(xs), min(ys))), _cell((max(xs), max(ys)))
    return ((x, y) for x in range(left, right + 1) for y in range(low, high + 1))


def _beside(one: Point, other: Point) -> Iterator[Point]:
    """Places outside of an edge."""
    (x, y), (along, up) = one, (other[0] - one[0], other[1] - one[1])
    out = _BESIDE_MM / max(1e-6, math.hypot(along, up))
    return ((x + share * along + out * up, y + share * up - out * along) for share in _PLACES)


def _holds(outline: Outline, point: Point) -> bool:
    """Whether a point is within an outline: a line from it to the right crosses its edges an odd number of times."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in _edges(outline):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside
