"""Openings into holes that meet the courses, and the courses that carry over them.

A hole is as wide as its opening. Its sill and head go to the nearest beds that leave the opening clear, unless a strip
of at least so much of a block's height, and no sliver, can be sawn to fit: then that strip is laid, and the hole is
exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from blockrun.order.walls.heights import Course
from blockrun.order.walls.tops import Line, highest, lowest
from blockrun.site.values import THINNEST_BLOCK_MM

if TYPE_CHECKING:
    from blockrun.order.walls.part import Opening, WallPart

STRIP_OVER: Final = 0.5
"""Least height of a strip over an opening, as a share of the course: it carries (our choice)."""
STRIP_UNDER: Final = 0.25
"""Least height of a strip under an opening, as a share of the course (our choice)."""
_EPS_MM: Final = 1e-4
_ON_A_BED_MM: Final = 0.2
"""How far over a bed a sill or a head is still on it: notes tell lengths to a tenth of a millimetre."""


@dataclass(frozen=True)
class Hole:
    """What is left open in a run; `over` and `under` are the numbers of the courses over and under it, 0 for none."""

    name: str
    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float
    under: int
    over: int


@dataclass(frozen=True)
class Lintel:
    """The stretch of a course that carries over one opening or several."""

    course: int
    left_mm: float
    right_mm: float


def hole(part: WallPart, opening: Opening, courses: Sequence[Course], line: Line) -> Hole:
    """The hole of an opening: under a lintel of one piece its head is a bed, where troughs may be sawn it is exact.

    A hole whose head would be over the line the run ends at is open to that line.
    """
    has_strips = opening.width_mm - 2 * part.joint_mm >= THINNEST_BLOCK_MM
    bottom, under = _bottom(opening.sill_mm, courses, has_strips=has_strips)
    top, over = _top(opening.head_mm, courses, exact_head=has_strips and part.lintel == "trough")
    if not over or top > lowest(line, opening.from_mm, opening.to_mm) - _EPS_MM:
        top, over = highest(line, opening.from_mm, opening.to_mm), 0
    within = next((one for one in courses if one.bottom_mm < bottom and top < one.top_mm), None)
    if within:
        bottom, under = _bed_under(within, courses)
    return Hole(opening.name, opening.from_mm, opening.to_mm, bottom, top, under, over)


def _bottom(sill: float, courses: Sequence[Course], *, has_strips: bool) -> tuple[float, int]:
    course = next((one for one in courses if one.top_mm > sill + _ON_A_BED_MM), courses[-1])
    strip = sill - course.bottom_mm
    if has_strips and strip >= STRIP_UNDER * (course.top_mm - course.bottom_mm):
        return sill, course.number
    return _bed_under(course, courses)


def _bed_under(course: Course, courses: Sequence[Course]) -> tuple[float, int]:
    return (courses[course.number - 2].top_mm, course.number - 1) if course.number > 1 else (0.0, 0)


def _top(head: float, courses: Sequence[Course], *, exact_head: bool) -> tuple[float, int]:
    course = next((one for one in courses if one.top_mm > head + _EPS_MM), None)
    if course is None:
        return head, 0
    if head <= course.bottom_mm + _ON_A_BED_MM:
        return course.bottom_mm, course.number
    if exact_head and course.top_mm - head >= STRIP_OVER * (course.top_mm - course.bottom_mm):
        return head, course.number
    if course.number == len(courses):
        return course.top_mm, 0
    return courses[course.number].bottom_mm, course.number + 1


def lintels(holes: Sequence[Hole], bearing_mm: float, apart_mm: float, span: tuple[float, float]) -> list[Lintel]:
    """Lintels with their bearing, within the run; those in one course and less than so far apart are one."""
    found: list[Lintel] = []
    for one in sorted(holes, key=lambda one: (one.over, one.left_mm)):
        if not one.over:
            continue
        left, right = max(span[0], one.left_mm - bearing_mm), min(span[1], one.right_mm + bearing_mm)
        if found and found[-1].course == one.over and left < found[-1].right_mm + apart_mm:
            found[-1] = replace(found[-1], right_mm=max(right, found[-1].right_mm))
        else:
            found.append(Lintel(one.over, left, right))
    return found
