"""Courses that a plan made anew has ready on another day than the one before: words that `show` prints."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from blockrun.order import DomePart
from blockrun.planner.moments import moments

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


@dataclass(frozen=True)
class CourseMoved:
    """A course, by the day on which the last of its blocks may be laid.

    Attributes
    ----------
    part, course : None for the course of a part without any.
    ring : whether it is one of a dome.
    was, now : by the plan before, and by the one made anew.
    needed : by that one; None where it is not said.
    """

    part: str
    course: int | None
    ring: bool
    was: date
    now: date
    needed: date | None

    @property
    def days_late(self) -> int:
        """Days by which it is late now."""
        return max(0, (self.now - self.needed).days) if self.needed else 0


class _Whole(NamedTuple):
    ready: date
    needed: date | None


def courses_moved(before: Plan, now: Plan) -> list[CourseMoved]:
    """Courses of both plans that are ready sooner or later, by part and course."""
    old, new = _courses(before), _courses(now)
    domes = {part.name for part in now.order.parts if isinstance(part, DomePart)}
    return [
        CourseMoved(part, course or None, part in domes, old[part, course].ready, whole.ready, whole.needed)
        for (part, course), whole in sorted(new.items())
        if (part, course) in old and old[part, course].ready != whole.ready
    ]


def _courses(plan: Plan) -> dict[tuple[str, int], _Whole]:
    """When the last block of each course is ready, and when the first is needed; course 0 for a part without any."""
    casts = plan.tables.casts
    numbers = [int(course) for course in casts["course"].fillna(0)]
    found: dict[tuple[str, int], _Whole] = {}
    for part, course, ready, needed in zip(
        casts["part"], numbers, moments(casts["ready"]), moments(casts["needed"]), strict=True
    ):
        if part:
            last, first = found.get((part, course), _Whole(date.min, None))
            days = [day for day in (first, needed and needed.date()) if day]
            found[part, course] = _Whole(max(last, ready.date()), min(days, default=None))
    return found
