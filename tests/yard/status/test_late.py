"""Courses that will not be there in time: hand-checked on the plan of fifteen blocks.

By the plan course 1 is ready on Tuesday 4 May, the day it is needed, and course 2 on Thursday 6 May, a day late;
course 3 is needed on no day. The last batches are poured on Thursday 8 April.
"""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

from blockrun.planner.as_planned import AsPlanned
from blockrun.planner.morning import CourseNow, Some
from blockrun.site import load_site
from blockrun.yard.status.late import late_courses
from tests.planner.test_ages import STRIP, change, table
from tests.yard.status.conftest import PLANS, POURED, SECOND, STRIPPED, Status

THIRD = (
    "2027-04-08 08:10 stripped gang-2/1",
    "2027-04-08 08:10 stripped gang-2/2",
    "2027-04-08 08:10 sides tray-1/1",
    "2027-04-08 09:14 poured 3",
    "2027-04-08 09:42 poured 4",
)


def test_what_the_plan_itself_has_late_is_told_as_planned(status: Status) -> None:
    (late,) = status("2027-04-05 07:00").late
    assert (late.course, late.needed, late.ready, late.days, late.is_planned) == (
        2, date(2027, 5, 5), date(2027, 5, 6), 1, True,
    )  # fmt: skip


def test_blocks_of_a_course_that_are_needed_later_than_others_are_late_by_their_own_day(
    status: Status, small: AsPlanned
) -> None:
    later = [cast for cast in small.casts if cast.course == 2 and cast.ready.date() == date(2027, 5, 6)]
    assert later
    casts = tuple(replace(c, needed=datetime.fromisoformat("2027-05-19")) if c in later else c for c in small.casts)
    assert status("2027-04-05 07:00", plan=replace(small, casts=casts)).late == ()
    # and where the others are late, the day they are needed is told
    first, second = status("2027-04-20 10:00", plan=replace(small, casts=casts)).late
    assert (first.course, second.course, second.needed) == (1, 2, date(2027, 5, 5))


def test_a_batch_that_is_overdue_makes_its_courses_late(status: Status) -> None:
    # batch 1 on Wednesday 7 April, ready 28 days later
    first, second = status("2027-04-07 10:00").late
    assert (first.course, first.ready, first.days, first.is_planned) == (1, date(2027, 5, 5), 1, False)
    assert (second.course, second.is_planned) == (2, True)


def test_the_rest_of_the_plan_is_believed(status: Status) -> None:
    late = status("2027-04-08 12:00", POURED, *STRIPPED, SECOND, *THIRD).late
    assert [(one.course, one.days) for one in late] == [(2, 1)]


def test_a_course_that_is_there_is_not_late_however_late_it_is_laid(status: Status) -> None:
    out = [f"2027-04-12 13:00 stripped {name}" for name in ("gang-2/1", "gang-2/2", "tray-1/b1", "tray-1/b2")]
    assert status("2027-05-20 10:00", POURED, *STRIPPED, SECOND, *THIRD, *out).late == ()


def test_blocks_that_nobody_stripped_have_their_time_on_the_rack_to_come(status: Status) -> None:
    (late,) = status("2027-05-20 10:00", POURED, *STRIPPED, SECOND, *THIRD).late
    assert (late.course, late.ready) == (2, date(2027, 5, 27))


def test_a_spare_stands_in_for_a_block_that_broke(status: Status) -> None:
    broken = "2027-04-06 13:00 stripped gang-2/2 1 half broken"
    progress = status("2027-04-06 14:00", POURED, broken)
    assert progress.short == ()


def test_blocks_that_nothing_stands_in_for_are_short(status: Status, small: AsPlanned) -> None:
    bare = replace(small, casts=tuple(cast for cast in small.casts if not cast.spare))
    (short,) = status("2027-04-06 14:00", POURED, "2027-04-06 13:00 stripped gang-2/1 1 broken", plan=bare).short
    assert (short.part, short.blocks) == ("wall", (("full", 1),))


def test_cubes_too_weak_keep_a_course_from_its_day(status: Status, small: AsPlanned, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(PLANS / "small" / "inputs", tmp_path / "inputs"))
    (folder / "cubes.csv").write_text(table(0.08), encoding="utf-8")
    change(folder, (STRIP, f"{STRIP}\n  cubes: cubes.csv"), ("lay_at: 28 d", "lay_at: 0.6 MPa"))
    plan = replace(small, site=load_site(folder / "site.yaml"))
    recorded = (POURED, *STRIPPED, SECOND, "2027-04-08 08:10 stripped gang-2/1")
    assert [late.course for late in status("2027-05-03 12:00", *recorded, plan=plan).late] == [2]
    weak = status("2027-05-03 12:00", "2027-05-03 08:00 test cube 1 5kN 100x100mm 28d", plan=plan).late
    # batch 1 is no use any more: what stands in for it is poured today
    assert (weak[0].course, weak[0].ready) == (1, date(2027, 5, 31))


def test_blocks_outside_their_card_are_in_no_course_in_time(status: Status) -> None:
    light = f"{POURED} --weight 730kg/m3"
    late = status("2027-04-08 12:00", light, *STRIPPED, SECOND, *THIRD).late
    assert [(one.course, one.apart) for one in late if one.ready is None] == [(2, 2)]
    answered = status("2027-04-08 12:00", "2027-04-08 11:00 passed 1 the scales were wet").late
    assert [(one.course, one.days, one.apart) for one in answered] == [(2, 1, 0)]


def test_blocks_never_old_enough_are_late_without_a_day(small: AsPlanned) -> None:
    never = Some("in moulds", (("full", 4),), None, (date(2027, 4, 5),))
    due = date(2027, 5, 4)
    course = CourseNow("wall", 1, False, due, 4, 0, 0, (never,), None, dues=((due, None),))
    (late,) = late_courses(small, [course])
    assert (late.ready, late.days, late.is_planned) == (None, None, False)


def test_blocks_that_are_never_ready_hide_no_others_that_are_late(small: AsPlanned) -> None:
    apart = Some("in moulds", (("full", 4),), None, (date(2027, 4, 5),))
    dues = ((date(2027, 5, 4), datetime.fromisoformat("2027-05-09T00:00")), (date(2027, 5, 4), None))
    course = CourseNow("wall", 1, False, date(2027, 5, 4), 4, 0, 0, (apart,), None, dues=dues, apart=2)
    (late,) = late_courses(small, [course])
    assert (late.needed, late.days, late.apart) == (date(2027, 5, 4), 5, 2)
