"""The true size of a block's two faces, as it is laid: by them a piece is marked out and sawn."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.order.domes.clip import Point
from blockrun.order.domes.courses import Crown
from blockrun.order.domes.frame import Course
from blockrun.order.domes.openings import cuts_into, face, taken
from blockrun.order.domes.part import DomeOpening
from blockrun.order.shape import Shape

_ON_IT_MM: Final = 1e-3
"""No further than this from a line is on it."""
_SAGITTA_MM: Final = 0.02
"""How far the sides of the outline of a round face may be from the round."""

Side = tuple[Point, Point]
"""A straight side of an outline."""


@dataclass(frozen=True)
class Spot:
    """Where a block of a dome stands.

    Parameters
    ----------
    course : its place in the section.
    shape : of the block as laid, before openings.
    middle_rad : azimuth of its middle, anti-clockwise from above.
    """

    course: Course
    shape: Shape
    middle_rad: float


@dataclass(frozen=True)
class Face:
    """One face of a block as laid, in its own plane.

    Parameters
    ----------
    outline : its corners before openings, anti-clockwise as seen from outside the dome: mm to the right of the middle
        of the block, and up from the bottom edge of its inside face. Of a crown block from its middle, both ways.
    taken : outlines of what openings take of it; empty where that is nothing.
    """

    outline: tuple[Point, ...]
    taken: tuple[tuple[Point, ...], ...] = ()

    def sides_left(self) -> Iterator[Side]:
        """Sides of what is left: of the face where nothing is taken, then of what is taken inside it."""
        for side in _sides(self.outline):
            yield from _uncovered(side, [other for part in self.taken for other in _sides(part)])
        for part in self.taken:
            for side in _sides(part):
                if not any(_lies_on(side, edge) for edge in _sides(self.outline)):
                    yield side

    def mirrored(self) -> Face:
        """The same face as seen from the other side, its outlines anti-clockwise again."""
        return Face(_turned_over(self.outline), tuple(map(_turned_over, self.taken)))


def faces(spot: Spot, openings: Sequence[DomeOpening]) -> tuple[Face, Face]:
    """The outside and the inside face of a block, both as seen from outside the dome."""
    cutting = [opening for opening in openings if cuts_into(spot.course, spot.shape, spot.middle_rad, opening)]
    outside, inside = (_face(spot, depth, cutting) for depth in (0.0, spot.course.thickness_mm))
    return outside, inside


def crown_faces(crown: Crown) -> tuple[Face, Face]:
    """The round faces of a crown block, outside and inside, as outlines of many short sides."""
    return Face(_round(crown.outside_radius_mm)), Face(_round(crown.inside_radius_mm))


def _face(spot: Spot, depth_mm: float, openings: Sequence[DomeOpening]) -> Face:
    outline = face(spot.course, spot.shape, depth_mm)
    out = (taken(spot.course, spot.shape, depth_mm, spot.middle_rad, opening) for opening in openings)
    return Face(tuple(outline), tuple(tuple(part) for part in out if part))


def _round(radius_mm: float) -> tuple[Point, ...]:
    """As many sides as keep the outline near the round: the sagitta of one is r (1 - cos(pi / n))."""
    sides = 4 * math.ceil(math.pi / math.acos(1 - min(_SAGITTA_MM, radius_mm / 2) / radius_mm) / 4)
    turns = (2 * math.pi * number / sides for number in range(sides))
    return tuple((radius_mm * math.cos(turn), radius_mm * math.sin(turn)) for turn in turns)


def _turned_over(outline: Sequence[Point]) -> tuple[Point, ...]:
    return tuple((-across, up) for across, up in reversed(outline))


def _sides(outline: Sequence[Point]) -> list[Side]:
    every = zip(outline, [*outline[1:], *outline[:1]], strict=True)
    return [side for side in every if math.dist(*side) > _ON_IT_MM]


def _uncovered(side: Side, others: Sequence[Side]) -> Iterator[Side]:
    """What of a side no other that lies on it covers."""
    covered = sorted(
        sorted((_along(side, one), _along(side, end))) for one, end in others if _lies_on((one, end), side)
    )
    length, at = math.dist(*side), 0.0
    for begin, end in [*covered, [length, length]]:
        if begin - at > _ON_IT_MM:
            yield _point(side, at), _point(side, begin)
        at = max(at, end)


def _lies_on(side: Side, line: Side) -> bool:
    """Whether both ends of a side are on the line through another."""
    return all(abs(_off(line, point)) < _ON_IT_MM for point in side)


def _along(line: Side, point: Point) -> float:
    (x, y), (x1, y1) = line
    return ((x1 - x) * (point[0] - x) + (y1 - y) * (point[1] - y)) / math.dist(*line)


def _off(line: Side, point: Point) -> float:
    (x, y), (x1, y1) = line
    return ((x1 - x) * (point[1] - y) - (y1 - y) * (point[0] - x)) / math.dist(*line)


def _point(line: Side, along_mm: float) -> Point:
    (x, y), (x1, y1) = line
    share = along_mm / math.dist(*line)
    return x + share * (x1 - x), y + share * (y1 - y)
