"""Piers: thickenings on the inside of a wall, laid against it course by course and tied to it."""

from __future__ import annotations

from collections.abc import Sequence

from blockrun.order.laid import Laid, Role
from blockrun.order.shape import Shape
from blockrun.order.walls.bond import EPS_MM, Gauge, lay_row
from blockrun.order.walls.cut import exact_mm
from blockrun.order.walls.heights import Levels
from blockrun.order.walls.part import Pier, WallPart
from blockrun.order.walls.runs import Stretch
from blockrun.order.walls.tops import height_at


def lay_piers(part: WallPart, stretches: Sequence[Stretch], way: Levels) -> list[tuple[int, str, list[Laid]]]:
    """Number of the picture, name and blocks of each pier, seen from the inside."""
    piers = [(stretch, index, pier) for stretch in stretches for index, pier in enumerate(stretch.piers, 1)]
    return [
        (number, f"{stretch.name}, pier {index}", _lay(part, stretch, pier, way, number))
        for number, (stretch, index, pier) in enumerate(piers, len(stretches) + 1)
    ]


def _lay(part: WallPart, stretch: Stretch, pier: Pier, way: Levels, face: int) -> list[Laid]:
    """Courses of a pier, as high as the wall is on both its sides; wide ones are bonded in halves."""
    top = min(height_at(stretch.line, place) for place in (pier.at_mm, pier.at_mm + pier.width_mm))
    length, height, thickness = part.block
    projection = pier.projection_mm or thickness
    half = (length - part.joint_mm) / 2
    gauge = Gauge(length, part.joint_mm, part.overlap_mm, part.least_mm, (half,))
    blocks: list[Laid] = []
    below: tuple[float, ...] = ()
    for course in way.courses:
        up = min(course.top_mm, top)
        if up - course.bottom_mm <= EPS_MM:
            break
        grid = length if course.number % 2 else half
        row = lay_row(0.0, pier.width_mm, grid, below, gauge)
        below = tuple(end for _, end in row.blocks[:-1])
        cut = "" if up - course.bottom_mm >= height - EPS_MM else f"to {part.said(up - course.bottom_mm)} high"
        for left, right in row.blocks:
            box = ((left, course.bottom_mm), (right, course.bottom_mm), (right, up), (left, up))
            shape = Shape(exact_mm(right - left), exact_mm(height), exact_mm(projection))
            blocks.append(Laid(course.number, shape, face, box, cut, Role.PIER))
    return blocks
