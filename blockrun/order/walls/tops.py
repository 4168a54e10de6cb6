"""The line a wall ends at: level, a gable or a slope; and blocks cut to it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.order.laid import Point

if TYPE_CHECKING:
    from blockrun.order.walls.part import Straight

Line = tuple[Point, ...]
"""Heights along a run: points (along, up) in mm from left to right, straight between them, level outside them."""
_EPS_MM: Final = 1e-6


def line_of(height_mm: float, straight: Straight, length_mm: float) -> Line:
    """The line that a run of this height and length ends at."""
    if straight.tops:
        return tuple((top.at_mm, top.height_mm) for top in sorted(straight.tops, key=lambda top: top.at_mm))
    if straight.gable_mm:
        return ((0.0, height_mm), (length_mm / 2, height_mm + straight.gable_mm), (length_mm, height_mm))
    return ((0.0, height_mm), (length_mm, height_mm))


def height_at(line: Line, along_mm: float) -> float:
    """Height of the line at a place."""
    if along_mm <= line[0][0]:
        return line[0][1]
    for (left, low), (right, high) in itertools.pairwise(line):
        if along_mm <= right:
            return low + (high - low) * (along_mm - left) / (right - left)
    return line[-1][1]


def lowest(line: Line, left_mm: float, right_mm: float) -> float:
    """The least height of the line between two places."""
    return min(_heights(line, left_mm, right_mm))


def highest(line: Line, left_mm: float, right_mm: float) -> float:
    """The greatest height of the line between two places."""
    return max(_heights(line, left_mm, right_mm))


def _heights(line: Line, left_mm: float, right_mm: float) -> list[float]:
    between = [up for along, up in line if left_mm < along < right_mm]
    return [height_at(line, left_mm), *between, height_at(line, right_mm)]


def has_level(line: Line, up_mm: float) -> bool:
    """Whether some of the line runs level at a height."""
    return any(abs(low - up_mm) + abs(high - up_mm) <= _EPS_MM for (_, low), (_, high) in itertools.pairwise(line))


def crossings(line: Line, up_mm: float) -> list[float]:
    """Places at which the line passes a height, in ascending order."""
    return [
        left + (right - left) * (up_mm - low) / (high - low)
        for (left, low), (right, high) in itertools.pairwise(line)
        if (low - up_mm) * (high - up_mm) < 0
    ]


def under(line: Line, left_mm: float, right_mm: float, up_mm: float) -> Iterator[tuple[float, float]]:
    """Stretches between two places in which the line is above a height."""
    turns = sorted({along for along, up in line} | set(crossings(line, up_mm)))
    cuts = [left_mm, *(along for along in turns if left_mm + _EPS_MM < along < right_mm - _EPS_MM), right_mm]
    start: float | None = None
    for left, right in itertools.pairwise(cuts):
        above = height_at(line, (left + right) / 2) > up_mm + _EPS_MM
        if above and start is None:
            start = left
        if not above and start is not None:
            yield start, left
            start = None
    if start is not None:
        yield start, right_mm


def cut_to(line: Line, left_mm: float, right_mm: float, bottom_mm: float, top_mm: float) -> tuple[Point, ...]:
    """What of a block is below the line, anti-clockwise from its lower left corner."""
    turns = [*crossings(line, top_mm), *(along for along, _ in line)]
    places = [left_mm, *sorted(along for along in turns if left_mm + _EPS_MM < along < right_mm - _EPS_MM), right_mm]
    upper = [(along, max(bottom_mm, min(top_mm, height_at(line, along)))) for along in places]
    return _plain([(left_mm, bottom_mm), (right_mm, bottom_mm), *reversed(upper)])


def _plain(corners: list[Point]) -> tuple[Point, ...]:
    """The corners without those that are doubled or in line with their neighbours."""
    kept: list[Point] = []
    for corner in corners:
        if not kept or max(abs(corner[0] - kept[-1][0]), abs(corner[1] - kept[-1][1])) > _EPS_MM:
            kept.append(corner)
    if max(abs(kept[0][0] - kept[-1][0]), abs(kept[0][1] - kept[-1][1])) <= _EPS_MM:
        kept.pop()
    count = len(kept)
    return tuple(
        kept[index]
        for index in range(count)
        if abs(_turn(kept[index - 1], kept[index], kept[(index + 1) % count])) > 1e-3
    )


def _turn(one: Point, two: Point, three: Point) -> float:
    return (two[0] - one[0]) * (three[1] - two[1]) - (two[1] - one[1]) * (three[0] - two[0])
