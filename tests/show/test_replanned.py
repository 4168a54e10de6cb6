"""What is said of a plan made anew: courses that are ready on another day, batches with another number."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from blockrun.planner.begun import Begun
from blockrun.planner.begun.changes import BatchOfDay, DayChanged
from blockrun.planner.begun.courses import CourseMoved
from blockrun.planner.plan import Plan
from blockrun.planner.replanned import Replanned
from blockrun.show.page import GLUE
from blockrun.show.replanned import replanned_text


def course(number: int, was: int, now: int, needed: int | None, *, ring: bool = False) -> CourseMoved:
    """A course of the north wall, ready and needed on days of May."""
    days = [day and date(2027, 5, day) for day in (was, now, needed)]
    return CourseMoved("north", number, ring, *days)  # type: ignore[arg-type]


def said(plan: Plan, *courses: CourseMoved) -> list[str]:
    """The lines about courses at 40 columns."""
    made = replace(plan, begun=Begun(since=datetime.fromisoformat("2027-04-06T12:00"), number=2, after=1))
    before = {stage.stage: stage.value for stage in plan.stages}
    told = Replanned(made, before, None, (), (), 0, (), (), 2, 1, 0, courses)
    lines = replanned_text(told, 40, "plan").plain.splitlines()
    if "Courses" not in lines:
        return []
    first = lines.index("Courses") + 1
    return lines[first : lines.index("", first)]


def test_courses_later_than_before_and_late_are_named_with_their_days(small_plan: Plan) -> None:
    assert said(small_plan, course(2, 12, 14, 13), course(1, 10, 19, 5), course(3, 12, 15, 15)) == [
        "- north course 1: ready Wed 19 May, was",
        "  Mon 10 May; needed Wed 5 May",
        "- north course 2: ready Fri 14 May, was",
        "  Wed 12 May; needed Thu 13 May",
        "- 1 ready later than before, none of",
        "  them late",
    ]


def test_sooner_ones_and_many_are_counted(small_plan: Plan) -> None:
    late = [course(number, 10, 11, 10, ring=True) for number in range(1, 12)]
    lines = said(small_plan, *late, course(12, 10, 9, None))
    assert sum("course" in line for line in lines) == 8
    assert lines[-2:] == ["- 3 more are later than before, and late", "- 1 ready sooner than before"]


def test_batches_as_before_with_another_number_are_told_with_the_one_on_their_card(small_plan: Plan) -> None:
    day = date(2027, 4, 6)
    old, new, alike, last, first = (
        BatchOfDay(number, datetime(2027, 4, 6, hour), "light", 3.0, "drum", ("gang-2/01",), (("full", 4),))  # noqa: DTZ001
        for number, hour in ((7, 9), (9, 9), (8, 11), (10, 13), (11, 13))
    )
    days = (DayChanged(day, ((old, new), (alike, alike), (last, first)), (), (), ()),)
    made = replace(small_plan, begun=Begun(since=datetime.fromisoformat("2027-04-06T08:00"), number=2, after=1))
    before = {stage.stage: stage.value for stage in small_plan.stages}
    text = replanned_text(Replanned(made, before, None, (), (), 0, days, (), 2, 1), 80, "plan").plain
    said = " ".join(text.replace(GLUE, " ").split())
    assert "3 batches, as before, now batch 9 (it was batch 7) and batch 11 (it was batch 10)" in said


def test_where_no_course_moved_nothing_is_said(small_plan: Plan) -> None:
    assert said(small_plan) == []
