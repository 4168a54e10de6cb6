"""Piers bonded into a wall: in every second course blocks are laid across, through the wall and out into the pier.

Such a block, a header, is as wide along the wall as the wall is thick, and as long as wall, joint and pier are thick.
Beside headers a pier has blocks against the wall, as in other courses. None goes through a lintel or a ring beam.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from blockrun.order.walls.bond import CLASH, EPS_MM, Gauge, lay_row, overlap_at
from blockrun.order.walls.course import Laying, lay_course
from blockrun.order.walls.heights import THIN_SHARE, Course, Levels
from blockrun.order.walls.openings import Lintel
from blockrun.order.walls.runs import Header, Stretch
from blockrun.order.walls.tops import height_at

if TYPE_CHECKING:
    from blockrun.order.walls.part import Pier, WallPart

_EVERY: Final = 2
"""Every how many courses there are headers, as there are through ends at corners."""


@dataclass(frozen=True)
class Bonded:
    """A pier and its headers, from left to right: none where it is only laid against the wall."""

    pier: Pier
    headers: tuple[Header, ...]
    top_mm: float

    def headers_in(self, course: Course) -> list[tuple[float, float]]:
        """From where to where headers lie in a course, from the near side of the pier."""
        at = self.pier.at_mm
        return [(one.near_mm - at, one.far_mm - at) for one in self.headers if one.goes_through(course)]


def projection(part: WallPart, pier: Pier) -> float:
    """Thickness of the blocks of a pier."""
    return pier.projection_mm or part.block[2]


def header_mm(part: WallPart, pier: Pier) -> float:
    """Length of a header: through the wall, the joint behind it and the pier."""
    return part.block[2] + part.joint_mm + projection(part, pier)


def pier_gauge(part: WallPart) -> Gauge:
    """The measures of the bond in piers: half blocks where they are wide."""
    length = part.block[0]
    return Gauge(length, part.joint_mm, part.overlap_mm, part.least_mm, ((length - part.joint_mm) / 2,))


def bond_piers(
    run: Laying, way: Levels, lintels: Sequence[Lintel], beams: Collection[int]
) -> tuple[Laying, list[Bonded]]:
    """Every pier of a run with the headers that leave wall and pier bonded best, and the run with these through it."""
    part, found = run.part, []
    for pier in run.stretch.piers:
        stretch = run.stretch
        top = _top(part, stretch, pier, way)
        free = [course for course in way.courses if course.number % _EVERY == 0 and course.top_mm <= top + EPS_MM]
        free = [course for course in free if course.number not in beams and _is_clear(part, pier, course, lintels)]
        tried = [_headers(part, pier, places, free) for places in _places(part, pier)] if free else []
        tried = [headers for headers in tried if _has_room(part, stretch, free[0], headers)]
        ways_on = [(replace(run, stretch=_through(stretch, headers)), headers) for headers in tried]
        costs = [_cost(one, way, lintels, free[0]) + _lap_cost(part, pier, headers) for one, headers in ways_on]
        best = min(range(len(costs)), key=costs.__getitem__, default=None)
        run, headers = ways_on[best] if best is not None else (run, ())
        found.append(Bonded(pier, headers, top))
    return run, found


def _top(part: WallPart, stretch: Stretch, pier: Pier, way: Levels) -> float:
    """How high a pier is: as the wall on both its sides, or a course less where that leaves too little of a block."""
    top = min(height_at(stretch.line, place) for place in (pier.at_mm, pier.at_mm + pier.width_mm))
    thin = THIN_SHARE * part.block[1]
    return max([one.top_mm for one in way.courses if one.top_mm <= top < one.top_mm + way.bed_mm + thin], default=top)


def widths_that_bond(part: WallPart) -> tuple[float, float]:
    """The width of a pier of headers alone, and the least one of a header with a block beside it."""
    return part.block[2], part.block[2] + part.joint_mm + part.least_mm


def suits(part: WallPart, pier: Pier) -> bool:
    """Whether the sizes of a pier allow headers."""
    return next(_places(part, pier), None) is not None


def _places(part: WallPart, pier: Pier) -> Iterator[tuple[float, ...]]:
    """Where headers may begin, from the near side of a pier: side by side, at either side of it or in its middle."""
    thick, joint = part.block[2], part.joint_mm
    if header_mm(part, pier) > part.block[0] + EPS_MM:
        return
    for count in range(int((pier.width_mm + joint + EPS_MM) / (thick + joint)), 0, -1):
        rest = pier.width_mm - count * (thick + joint) + joint
        sides = {0.0} if rest <= EPS_MM else {0.0, rest} if rest - joint >= part.least_mm - EPS_MM else set()
        sides |= {rest / 2} if rest / 2 - joint >= part.least_mm - EPS_MM else set()
        for first in sorted(sides):
            yield tuple(first + index * (thick + joint) for index in range(count))


def _headers(part: WallPart, pier: Pier, places: Sequence[float], free: Sequence[Course]) -> tuple[Header, ...]:
    courses = frozenset(course.number for course in free)
    return tuple(Header(pier.at_mm + place, pier.at_mm + place + part.block[2], courses) for place in places)


def _through(stretch: Stretch, headers: Sequence[Header]) -> Stretch:
    passages = sorted((*stretch.passages, *headers), key=lambda one: one.near_mm)
    return replace(stretch, passages=tuple(passages))


def _is_clear(part: WallPart, pier: Pier, course: Course, lintels: Sequence[Lintel]) -> bool:
    """Whether no lintel lies over a pier in a course, or so near that no block goes between it and a header."""
    room = 2 * part.joint_mm + part.least_mm
    near, far = pier.at_mm - room, pier.at_mm + pier.width_mm + room
    return not any(one.course == course.number and one.left_mm < far and near < one.right_mm for one in lintels)


def _has_room(part: WallPart, stretch: Stretch, course: Course, headers: Sequence[Header]) -> bool:
    """Whether headers leave room for a block, or none, between them and what is beside them in the wall."""
    near, far = headers[0].near_mm, headers[-1].far_mm
    taken = [(one.from_mm, one.to_mm) for one in stretch.openings]
    taken += [(one.near_mm - part.joint_mm, one.far_mm + part.joint_mm) for one in stretch.passages]
    left, right = stretch.span(course)
    before = max([left, *(end for start, end in taken if start + end < near + far)])
    after = min([right, *(start for start, end in taken if start + end >= near + far)])
    least = part.joint_mm + part.least_mm
    return all(abs(gap) <= EPS_MM or gap >= least - EPS_MM for gap in (near - before, after - far))


def _cost(run: Laying, way: Levels, lintels: Sequence[Lintel], course: Course) -> float:
    """What the first course with headers costs, and the one under it."""
    under = way.courses[course.number - 2]
    here = [[one for one in lintels if one.course == at.number] for at in (under, course)]
    one = lay_course(run, under, here[0], (), course)
    two = lay_course(run, course, here[1], one.joints_mm)
    return sum(row.cost for placed in (one, two) for _, row in placed.rows)


def _lap_cost(part: WallPart, pier: Pier, headers: Sequence[Header]) -> float:
    """What it costs that joints beside headers lie too near to those of the other courses of the pier."""
    gauge = pier_gauge(part)
    joints = joints_in(part, pier, headers)
    row = lay_row(0.0, pier.width_mm, part.block[0], joints, gauge)
    laps = [overlap_at(end, joints, gauge) for _, end in row.blocks[:-1]]
    return CLASH * sum(lap < gauge.overlap_mm - EPS_MM for lap in laps)


def joints_in(part: WallPart, pier: Pier, headers: Sequence[Header]) -> tuple[float, ...]:
    """Where joints start beside headers, from the near side of a pier."""
    places = {one.near_mm - part.joint_mm - pier.at_mm for one in headers} | {
        one.far_mm - pier.at_mm for one in headers
    }
    return tuple(sorted(place for place in places if EPS_MM < place < pier.width_mm - EPS_MM))
