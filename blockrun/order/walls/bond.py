"""One stretch of one course: where its head joints go.

The bond gives each course a grid of joints. Within a stretch the grid is kept wherever it can be; near the ends of the
stretch, where it would leave slivers or joints too close above those below, other places are tried, and the row of
joints with the least cost is taken: no block shorter than the least, no overlap shorter than the least, few cut blocks,
joints on the grid.
"""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

EPS_MM: Final = 1e-4
"""Lengths closer than this are the same; far under what a saw or a mould can tell."""
SLIVER: Final = 10_000.0
CLASH: Final = 100.0
_CUT: Final = 3.0
_PART: Final = 1.0
_OFF_GRID: Final = 2.5
_THIN: Final = 40.0
_NO_BLOCK: Final = 10.0
"""How many slivers a wedge costs whose shorter face has no length at all."""
_END_ZONE: Final = 2.5
"""Blocks from each end of a stretch within which joints may leave the grid."""


@dataclass(frozen=True)
class Gauge:
    """The measures of a bond.

    Parameters
    ----------
    block_mm, joint_mm : whole block and head joint.
    overlap_mm, least_mm : least overlap of courses, and the shortest block laid.
    parts_mm : lengths that the bond itself needs, such as the half.
    """

    block_mm: float
    joint_mm: float
    overlap_mm: float
    least_mm: float
    parts_mm: tuple[float, ...]

    @property
    def module_mm(self) -> float:
        """A block and its joint."""
        return self.block_mm + self.joint_mm


@dataclass(frozen=True)
class Row:
    """Blocks of a stretch as (from, to) in mm, and what their joints and lengths cost."""

    blocks: tuple[tuple[float, float], ...]
    cost: float


def lay_row(
    left_mm: float,
    right_mm: float,
    grid_mm: float,
    below_mm: tuple[float, ...],
    gauge: Gauge,
    slopes_mm: tuple[float, float] = (0.0, 0.0),
    skews_mm: tuple[float, float] = (0.0, 0.0),
) -> Row:
    """Blocks from left to right with the stated joint between them.

    Parameters
    ----------
    left_mm, right_mm : ends of the stretch, on the face that is seen.
    grid_mm : where some joint of the bond starts; the others are whole modules away.
    below_mm : where joints of the course below start, in ascending order.
    gauge : the measures of the bond.
    slopes_mm : how much longer than the least the first and the last block should be, as a slope takes that off.
    skews_mm : how much longer the first and the last block are behind; a mould casts the longer face, and the shorter
        is to be no sliver.

    Returns
    -------
    The row; its first block starts at left and its last ends at right.
    """
    seen, reach = (left_mm, right_mm), gauge.module_mm
    left_mm, right_mm = left_mm - max(0.0, skews_mm[0]), right_mm + max(0.0, skews_mm[1])
    first, last = bisect.bisect(below_mm, left_mm - reach), bisect.bisect(below_mm, right_mm + reach)
    below = tuple(round(joint - left_mm, 6) for joint in below_mm[first:last])
    grid = round((grid_mm - left_mm) % gauge.module_mm, 6)
    row = _lay(round(right_mm - left_mm, 6), grid, below, gauge, slopes_mm, (abs(skews_mm[0]), abs(skews_mm[1])))
    blocks = [(left_mm + start, left_mm + end) for start, end in row.blocks]
    blocks[0] = (seen[0], blocks[0][1])
    blocks[-1] = (blocks[-1][0], seen[1])
    return Row(tuple(blocks), row.cost)


@lru_cache(maxsize=8192)
def _lay(
    length: float,
    grid: float,
    below: tuple[float, ...],
    gauge: Gauge,
    slopes: tuple[float, float],
    skews: tuple[float, float],
) -> Row:
    """Cheapest way from the left end to the right one, joint by joint (shortest path)."""
    joint, longest = gauge.joint_mm, gauge.block_mm + EPS_MM
    places = [-joint, *_places(length, grid, below, gauge), length]
    costs = [0.0, *(_place_cost(place, grid, below, gauge) for place in places[1:-1]), 0.0]
    best, came = [0.0] + [math.inf] * (len(places) - 1), [0] * len(places)
    first = 0
    for here in range(1, len(places)):
        while places[here] - places[first] - joint > longest:
            first += 1
        for there in range(first, here):
            size = places[here] - places[there] - joint
            if size > EPS_MM:
                first_one, last_one = there == 0, here == len(places) - 1
                cost = best[there] + costs[here]
                cost += _size_cost(size, size - skews[0] * first_one - skews[1] * last_one, gauge)
                cost += _slope_cost(size, gauge, slopes[0] * first_one, slopes[1] * last_one)
                if cost < best[here] - 1e-9:
                    best[here], came[here] = cost, there
    path = [len(places) - 1]
    while path[-1]:
        path.append(came[path[-1]])
    path.reverse()
    blocks = tuple((places[a] + joint, places[b]) for a, b in itertools.pairwise(path))
    return Row(blocks, best[-1])


def _places(length: float, grid: float, below: tuple[float, ...], gauge: Gauge) -> list[float]:
    """Places to try a joint at, in ascending order and no two the same."""
    module, joint = gauge.module_mm, gauge.joint_mm
    kept = [grid + step * module for step in range(-1, int(length / module) + 2)]
    near = _END_ZONE * module
    clashes = [place for place in kept if overlap_at(place, below, gauge) < gauge.overlap_mm - EPS_MM]
    tried = [place for place in _others(length, kept, below, gauge) if place < near or place > length - near]
    tried += [place for clash in clashes for place in _around(clash, below, gauge)]
    places: list[float] = []
    for place in sorted([*kept, *tried]):
        if EPS_MM < place < length - joint - EPS_MM and (not places or place - places[-1] > EPS_MM):
            places.append(place)
    return places


def _others(length: float, kept: list[float], below: tuple[float, ...], gauge: Gauge) -> Iterator[float]:
    """Joints off the grid: whole and part blocks from either end, even pairs, joints as near those below as may be."""
    joint, module = gauge.joint_mm, gauge.module_mm
    for size in (gauge.block_mm, *gauge.parts_mm, gauge.least_mm):
        for n_whole in range(3):
            yield size + n_whole * module
            yield length - size - joint - n_whole * module
    for pair in (*kept, length):
        yield (pair - joint) / 2
        yield (length + pair) / 2
    for place in below:
        yield place - gauge.overlap_mm - joint
        yield place + gauge.overlap_mm + joint


def _around(clash: float, below: tuple[float, ...], gauge: Gauge) -> Iterator[float]:
    """Joints to try where one on the grid would clash: three blocks for two, or just clear of those below."""
    module, clear = gauge.module_mm, gauge.overlap_mm + gauge.joint_mm
    yield from (clash - module / 3, clash + module / 3, clash - module / 2, clash + module / 2)
    for place in below:
        if abs(place - clash) < module:
            yield from (place - clear, place + clear)


def _place_cost(place: float, grid: float, below: tuple[float, ...], gauge: Gauge) -> float:
    """What a joint costs for leaving the grid and for standing too near one below."""
    off = (place - grid) % gauge.module_mm
    off = min(off, gauge.module_mm - off)
    cost = 0.0 if off <= EPS_MM else _OFF_GRID + off / gauge.module_mm / 100
    lacks = gauge.overlap_mm - overlap_at(place, below, gauge)
    return cost if lacks <= EPS_MM else cost + CLASH * (1 + lacks / gauge.overlap_mm)


def overlap_at(place: float, below: tuple[float, ...], gauge: Gauge) -> float:
    """Overlap of the blocks at a joint on those below."""
    index = bisect.bisect(below, place)
    near = min((abs(place - joint) for joint in below[max(0, index - 1) : index + 1]), default=math.inf)
    return max(0.0, near - gauge.joint_mm)


def _slope_cost(size: float, gauge: Gauge, first: float, last: float) -> float:
    """What a block costs that a slope leaves too little of."""
    lacks = gauge.least_mm + first + last - size
    return _THIN * lacks / gauge.block_mm if (first or last) and lacks > EPS_MM else 0.0


def _size_cost(size: float, shorter: float, gauge: Gauge) -> float:
    """What a block costs that is so long, and on its shorter face so long."""
    if shorter < gauge.least_mm - EPS_MM:
        return SLIVER * (1 if shorter > 0 else _NO_BLOCK) + gauge.least_mm - shorter
    if abs(size - gauge.block_mm) <= EPS_MM:
        return 0.0
    if any(abs(size - part) <= EPS_MM for part in gauge.parts_mm):
        return _PART
    return _CUT + (1 - size / gauge.block_mm) ** 2  # the squares make pairs even
