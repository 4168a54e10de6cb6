"""Piers: thickenings on the inside of a wall, course by course, with headers in the courses that have them."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field

from blockrun.order.laid import Laid, Point, Role
from blockrun.order.shape import Shape
from blockrun.order.walls.bond import EPS_MM, Gauge, lay_row, overlap_at
from blockrun.order.walls.cut import exact_mm, solid_l
from blockrun.order.walls.found import Found
from blockrun.order.walls.headers import Bonded, header_mm, joints_in, pier_gauge, projection
from blockrun.order.walls.heights import Course, Levels
from blockrun.order.walls.part import WallPart

Row = list[tuple[float, float, bool]]
"""Blocks of a course from the near side of a pier: from, to, and whether it is a header."""


@dataclass
class PierLaid:
    """A pier laid: the number and name of its picture, its sides, its blocks, their litres, and short overlaps."""

    number: int
    name: str
    wide_mm: float
    top_mm: float
    blocks: list[Laid] = field(default_factory=list)
    volume_l: float = 0.0
    short_overlaps: list[Point] = field(default_factory=list)


def lay_piers(part: WallPart, found: Sequence[Found], way: Levels) -> list[PierLaid]:
    """Every pier of a wall, seen from the inside; their pictures come after those of the runs."""
    piers = [(f"{run.stretch.name}, pier {index}", one) for run in found for index, one in enumerate(run.piers, 1)]
    return [
        _lay(part, one, way, PierLaid(number, name, one.pier.width_mm, one.top_mm))
        for number, (name, one) in enumerate(piers, len(found) + 1)
    ]


def _lay(part: WallPart, bonded: Bonded, way: Levels, laid: PierLaid) -> PierLaid:
    """Courses of a pier, as high as the wall is on both its sides."""
    gauge = pier_gauge(part)
    below: tuple[float, ...] = ()
    for course in way.courses:
        up = min(course.top_mm, bonded.top_mm)
        if up - course.bottom_mm <= EPS_MM:
            break
        row = _row(part, bonded, course, below, gauge)
        for block in row:
            _place(part, bonded, course, up, block, laid)
        joints = [end for _, end, _ in row[:-1]]
        short = [end for end in joints if overlap_at(end, below, gauge) < gauge.overlap_mm - EPS_MM]
        middles = (laid.wide_mm - end - part.joint_mm / 2 for end in short)
        laid.short_overlaps += [(middle, course.bottom_mm) for middle in middles]
        below = tuple(joints)
    return laid


def _row(part: WallPart, bonded: Bonded, course: Course, below: tuple[float, ...], gauge: Gauge) -> Row:
    """The blocks of a course: headers and what is beside them, or blocks against the wall; wide ones in halves."""
    headers = bonded.headers_in(course)
    near = tuple(sorted({*below, *joints_in(part, bonded.pier, bonded.headers)})) if not headers else below
    grid = gauge.block_mm if course.number % 2 or bonded.headers else gauge.parts_mm[0]
    ends = [-part.joint_mm, *itertools.chain(*headers), bonded.pier.width_mm + part.joint_mm]
    row: Row = [(*ends_of_one, True) for ends_of_one in headers]
    for left, right in zip(ends[::2], ends[1::2], strict=True):
        if right - left > 2 * part.joint_mm + EPS_MM:
            beside = lay_row(left + part.joint_mm, right - part.joint_mm, grid, near, gauge)
            row += [(*one, False) for one in beside.blocks]
    return sorted(row)


def _place(
    part: WallPart, bonded: Bonded, course: Course, up: float, block: tuple[float, float, bool], laid: PierLaid
) -> None:
    """Lay a block of a row: seen from inside, its near side is at the right."""
    near, far, is_header = block
    left, right = laid.wide_mm - far, laid.wide_mm - near
    box = ((left, course.bottom_mm), (right, course.bottom_mm), (right, up), (left, up))
    height = up - course.bottom_mm
    cut = "" if height >= part.block[1] - EPS_MM else f"to {part.said(height)} high"
    deep = header_mm(part, bonded.pier) if is_header else projection(part, bonded.pier)
    sides = (deep, part.block[2]) if is_header else (far - near, deep)
    shape = Shape(exact_mm(sides[0]), exact_mm(part.block[1]), exact_mm(sides[1]))
    laid.blocks.append(Laid(course.number, shape, laid.number, box, cut, Role.PIER))
    laid.volume_l += solid_l(box, deep, (0.0, 0.0))
