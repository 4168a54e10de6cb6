"""Straight runs of drawn walls: where each lies on the plan, and which walls inside meet them in a T."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from blockrun.order.drawings.plane import (
    CLOSE_MM,
    Line,
    Point,
    area,
    beside,
    cross,
    dot,
    left_of,
    minus,
    move,
    tidy,
    turn_deg,
    unit,
)
from blockrun.order.drawings.strips import Chain

_SQUARE = 0.02


@dataclass(frozen=True)
class Leg:
    """A straight run: the line of its outside face, with the wall to the left of it."""

    name: str
    start: Point
    end: Point

    @property
    def way(self) -> Point:
        """Its direction."""
        return unit(self.start, self.end)

    @property
    def length_mm(self) -> float:
        """From start to end."""
        return math.dist(self.start, self.end)

    def place(self, point: Point) -> Point:
        """How far along the run a point is, and how far behind its outside face."""
        way, there = self.way, minus(point, self.start)
        return dot(way, there), cross(way, there)


@dataclass(frozen=True)
class Tee:
    """A wall inside: what it was drawn as, where it starts and, unless its end is free, where it ends."""

    label: str
    leg: Leg
    start: tuple[str, float]
    end: tuple[str, float] | None


@dataclass(frozen=True)
class Building:
    """Runs that meet at corners, walked with the outside to the right, and the walls inside."""

    label: str
    legs: tuple[Leg, ...]
    closed: bool
    tees: tuple[Tee, ...] = ()

    @property
    def every_leg(self) -> tuple[Leg, ...]:
        """Its runs and its walls inside."""
        return (*self.legs, *(tee.leg for tee in self.tees))

    @property
    def labels(self) -> str:
        """All that it was drawn as."""
        return ", ".join([self.label, *(tee.label for tee in self.tees)])


def find_buildings(chains: Sequence[Chain], thickness: float) -> list[Building]:
    """Chains as buildings, each wall inside with the first building it meets; the others stand for themselves."""
    places = sorted((_building(chain, thickness) for chain in chains), key=_place)
    hosts = [building for building in places if len(building.legs) > 1]
    alone: list[Building] = []
    for building in places:
        if building in hosts:
            continue
        for index, host in enumerate(hosts):
            tee = _tee(host, building, thickness)
            if tee:
                hosts[index] = replace(host, tees=(*host.tees, tee))
                break
        else:
            alone.append(building)
    return hosts + alone


def _place(building: Building) -> tuple[float, float, str]:
    start = building.legs[0].start
    return start[1], start[0], building.label


def _building(chain: Chain, thickness: float) -> Building:
    points = _outside(chain, thickness)
    ends = (*points[1:], points[0]) if chain.closed else points[1:]
    pairs = list(zip(points, ends, strict=False))
    legs = tuple(Leg(f"run {number}", start, end) for number, (start, end) in enumerate(pairs, 1))
    return Building(chain.label, legs, chain.closed)


def _outside(chain: Chain, thickness: float) -> Line:
    """The outside faces of a chain, walked anti-clockwise."""
    if chain.closed:
        line = chain.line if area(chain.line) > 0 else chain.line[::-1]
        return tidy(beside(line, -thickness / 2, closed=True))
    forth, back = chain.line, chain.line[::-1]
    line = min((forth, back), key=lambda line: (-round(_turns(line)), line[0][1], line[0][0]))
    return beside(line, -thickness / 2, closed=False)


def _turns(line: Line) -> float:
    """How far a walk along a line turns to the left in all, degrees."""
    ways = [unit(one, other) for one, other in itertools.pairwise(line)]
    return sum(turn_deg(one, other) for one, other in itertools.pairwise(ways))


def _tee(host: Building, alone: Building, thickness: float) -> Tee | None:
    """A straight wall as one inside a building, if an end of it meets a run from the inside."""
    leg = alone.legs[0]
    middle = left_of(leg.way)
    start, end = move(leg.start, middle, thickness / 2), move(leg.end, middle, thickness / 2)
    for near, far in ((start, end), (end, start)):
        begins = next(_meets(host, near, unit(far, near), thickness), None)
        if begins is None:
            continue
        ends = next(_meets(host, far, unit(near, far), thickness), None)
        first, last = begins[2], ends[2] if ends else far
        face = left_of(unit(first, last))
        name = f"inner {len(host.tees) + 1}"
        inner = Leg(name, move(first, face, -thickness / 2), move(last, face, -thickness / 2))
        return Tee(alone.label, inner, begins[:2], ends[:2] if ends else None)
    return None


def _meets(host: Building, point: Point, way: Point, thickness: float) -> Iterator[tuple[str, float, Point]]:
    """Runs that a wall going this way ends at: their name, the wall's near side on them, and the inside face there."""
    for leg in host.legs:
        along, behind = leg.place(point)
        square = abs(dot(way, leg.way)) < _SQUARE and cross(leg.way, way) < 0
        touches = thickness / 2 - CLOSE_MM <= behind <= thickness + CLOSE_MM
        if square and touches and 0 <= along <= leg.length_mm:
            yield leg.name, along - thickness / 2, move(point, way, behind - thickness)
