"""A building seen from above: where its runs and inner walls lie; a place is one complex number, x + yj in mm."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.order.walls.part import InnerWall, Run, WallPart


@dataclass(frozen=True)
class Body:
    """The rectangle of a straight wall.

    Parameters
    ----------
    corners : the two at its start, then the two at its end, once round.
    along : direction from start to end, of length 1.
    """

    corners: tuple[complex, complex, complex, complex]
    along: complex

    def seen_from(self, point: complex) -> complex:
        """A point as how far along from the first corner (real) and how far inwards (imaginary)."""
        return (point - self.corners[0]) / self.along

    def longer(self, before_mm: float, after_mm: float) -> Body:
        """The same wall, longer by so much before its start and after its end."""
        back, on = -self.along * before_mm, self.along * after_mm
        one, two, three, four = self.corners
        return Body((one + back, two + back, three + on, four + on), self.along)


def turned(wall: WallPart) -> float:
    """Degrees that the corners of an outline turn to the left in all."""
    return sum(map(_turn, wall.outline))


def corners_of(wall: WallPart) -> list[complex]:
    """Where each run of an outline starts, the first at 0 and along x, and where the last one ends."""
    corners = [0j]
    for run, along in zip(wall.outline, _directions(wall), strict=True):
        corners.append(corners[-1] + run.length_mm * along)
    return corners


def insides_of(wall: WallPart) -> list[complex]:
    """Where the inside faces of an outline turn, one for each of `corners_of`."""
    corners, along, thick = corners_of(wall), _directions(wall), wall.block[2]
    before = [along[-1] if wall.closed else along[0], *along]
    after = [*along, along[0] if wall.closed else along[-1]]
    halves = [(one + two) / 2 for one, two in zip(before, after, strict=True)]
    return [corner + 1j * half / abs(half) ** 2 * thick for corner, half in zip(corners, halves, strict=True)]


def bodies_of(wall: WallPart) -> dict[str, Body]:
    """The body of each run, from corner to corner."""
    places = zip(wall.outline, corners_of(wall), _directions(wall), strict=False)
    return {run.name: _body(start, along, run.length_mm, wall.block[2]) for run, start, along in places}


def inner_body(wall: WallPart, inner: InnerWall, host: Body) -> Body:
    """The body of an inner wall that starts at the inside of a run, clear of the walls it meets."""
    far = host.corners[0] + host.along * (inner.at_mm + wall.block[2]) + host.along * 1j * wall.block[2]
    return _body(far, host.along * 1j, inner.length_mm, wall.block[2])


def _body(start: complex, along: complex, length: float, thick: float) -> Body:
    """A wall whose thickness is to the left of the walk along it."""
    side, reach = along * 1j * thick, along * length
    return Body((start, start + side, start + side + reach, start + reach), along)


def overlap(one: Body, other: Body, allowed_mm: float) -> bool:
    """Whether two bodies share more than a strip as wide as is allowed (separating axes)."""
    return all(
        _shared(axis, one, other) > allowed_mm for body in (one, other) for axis in (body.along, body.along * 1j)
    )


def _shared(axis: complex, one: Body, other: Body) -> float:
    mine, theirs = ([(corner / axis).real for corner in body.corners] for body in (one, other))
    return min(max(mine), max(theirs)) - max(min(mine), min(theirs))


def _directions(wall: WallPart) -> list[complex]:
    heading, directions = 0.0, []
    for run in wall.outline:
        directions.append(cmath.rect(1.0, math.radians(heading)))
        heading += _turn(run)
    return directions


def _turn(run: Run) -> float:
    return (180 - run.angle_deg) * (1 if run.corner == "outside" else -1)
