"""Courses that will not be there in time, by what is cast and what the plan still has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.progress import LateCourse, ShortCourse
from blockrun.yard.now import Lot, Pour, State
from blockrun.yard.ready.air import site_as_it_went
from blockrun.yard.ready.courses import courses_now
from blockrun.yard.ready.cubes import RecordedCubes
from blockrun.yard.ready.ripe import Ripe
from blockrun.yard.ready.supply import Supply, supplies
from blockrun.yard.status.pours import still_due

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.planner.morning import CourseNow
    from blockrun.yard.journal import Entry


def ripe_by_then(plan: AsPlanned, state: State, entries: Iterable[Entry]) -> Ripe:
    """When blocks are old enough, in the air as it went.

    Parameters
    ----------
    entries : those that stand and happened by then: cubes among them overrule ages.
    """
    site = site_as_it_went(plan.site, state.air, frozenset(state.lost))
    return Ripe(plan, site, RecordedCubes(site, entries))


def courses_to_come(plan: AsPlanned, state: State, ripe: Ripe, at: datetime, apart: Container[Pour]) -> list[CourseNow]:
    """All courses not yet laid whole, by the blocks that are there and those that the plan will still cast.

    Parameters
    ----------
    apart : pours outside their cards, of which nothing is to be laid.
    """
    supply = supplies(state, ripe, {place: ripe.strip(here) for place, here in state.moulds.items()}, at, apart)
    for one in _planned(plan, state, at):
        supply.setdefault(one.kind, []).append(one)
    for of_kind in supply.values():
        of_kind.sort(key=lambda one: one.order)
    return courses_now(plan, state, supply, at)


def _planned(plan: AsPlanned, state: State, at: datetime) -> Iterator[Supply]:
    """Blocks of batches that nobody poured yet: ready so long after their pour as planned."""
    due = still_due(plan, state, at)
    found = Counter(
        ((cast.mark, cast.mix), cast.batch, cast.ready - cast.poured) for cast in plan.casts if cast.batch in due
    )
    for (kind, batch, takes), count in found.items():
        lot = Lot(plan.recorded_as(batch), due[batch], due[batch], count)
        yield Supply(kind, "planned", due[batch] + takes, lot, count)


def late_courses(plan: AsPlanned, courses: Iterable[CourseNow]) -> Iterator[LateCourse]:
    """Courses that can be laid whole, only later than they are needed: each by those of its blocks that are latest."""
    planned: dict[tuple[str, int | None, date], date] = {}
    for cast in plan.casts:
        if cast.needed is not None:
            key = (cast.part, cast.course, cast.needed.date())
            planned[key] = max(planned.get(key, date.min), cast.ready.date())
    for course in courses:
        late = [(needed, last and last.date()) for needed, last in course.dues if last is None or last.date() > needed]
        if late and course.missing is None and not course.is_whole:
            # what is never ready, for want of a word, hides no other that is late
            needed, ready = max(late, key=lambda one: (one[1] is not None, (one[1] or one[0]) - one[0]))
            by_plan = planned.get((course.part, course.course, needed), needed)
            yield LateCourse(course.part, course.course, course.ring, needed, ready, by_plan, course.apart)


def short_courses(courses: Iterable[CourseNow]) -> Iterator[ShortCourse]:
    """Courses of which blocks are neither there nor in any pour of the plan."""
    for course in courses:
        if course.missing is not None:
            yield ShortCourse(course.part, course.course, course.ring, course.needed, course.missing.blocks)
