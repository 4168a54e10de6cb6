"""What held a plan back, day by day, and which courses are late."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from blockrun.planner.why.planned_days import PlannedDays
from blockrun.planner.why.taken import HeldDay

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import Stack


@dataclass(frozen=True)
class LateCourse:
    """A course some of whose blocks are ready after the day they are needed, and the day on which all are there."""

    part: str
    course: int | None
    needed: date
    late: int
    there: date


@dataclass(frozen=True)
class Held:
    """All working days up to the last pour, and courses that are late.

    Attributes
    ----------
    since : the day on which the plan was made anew: of days before it only good blocks are told. None of a first plan.
    stack : of the yard, where there is not ground for all.
    """

    days: tuple[HeldDay, ...]
    courses: tuple[LateCourse, ...]
    since: date | None = None
    stack: Stack | None = None

    @property
    def by(self) -> list[tuple[str, int]]:
        """On how many days each thing ran out while blocks were still to pour, what did so most often first."""
        count = Counter(thing for day in self.days if day.left for thing in day.held_by)
        return sorted(count.items(), key=lambda of: (-of[1], of[0]))


def held(plan: Plan) -> Held:
    """What held a plan back."""
    yard = PlannedDays(plan)
    calendar, first = plan.site.calendar, plan.site.calendar.start
    days = (first + timedelta(days=n) for n in range((yard.last - first).days + 1))
    working = tuple(yard.day(day) for day in days if calendar.is_working(day))
    return Held(working, _late_courses(yard.casts), plan.begun.since.date() if plan.begun else None, plan.site.stack)


def _late_courses(casts: list[Any]) -> tuple[LateCourse, ...]:
    """Those of which a block is late, in the order in which they are needed."""
    return tuple(sorted(_lateness(casts), key=lambda one: (one.needed, one.part, one.course or 0)))


def _lateness(casts: list[Any]) -> Iterator[LateCourse]:
    courses: dict[tuple[str, int | None, date], list[date]] = {}
    for cast in casts:
        if not cast.spare and cast.needed:
            courses.setdefault((cast.part, cast.course, cast.needed.date()), []).append(cast.ready.date())
    for (part, course, needed), ready in courses.items():
        late = sum(day > needed for day in ready)
        if late:
            yield LateCourse(part, course, needed, late, max(ready))
