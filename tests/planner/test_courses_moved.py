"""Which courses a plan made anew has ready on another day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pandas as pd

from blockrun.planner.begun.courses import courses_moved
from blockrun.planner.plan import Plan


def _with(plan: Plan, casts: pd.DataFrame) -> Plan:
    return replace(plan, tables=replace(plan.tables, casts=casts))


def test_a_course_is_as_late_as_its_last_block(small_plan: Plan) -> None:
    assert courses_moved(small_plan, small_plan) == []
    casts = small_plan.tables.casts.copy()
    of_course = casts[casts["part"] != ""]
    last = of_course["ready"].idxmax()
    casts.loc[last, "ready"] += pd.Timedelta(3, "D")
    (moved,) = courses_moved(small_plan, _with(small_plan, casts))
    assert moved.part == casts.loc[last, "part"]
    assert moved.now - moved.was == timedelta(3)


def test_it_is_late_from_the_first_day_on_which_a_block_of_it_is_needed(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.copy()
    part, course = casts.loc[casts["part"] != "", ["part", "course"]].iloc[0]
    of_course = (casts["part"] == part) & (casts["course"].fillna(0) == (0 if pd.isna(course) else course))
    casts.loc[of_course, "ready"] = pd.Timestamp("2027-07-10 09:00")
    casts.loc[of_course, "needed"] = pd.Timestamp("2027-07-12")
    casts.loc[of_course.idxmax(), "needed"] = pd.Timestamp("2027-07-07")
    (moved,) = courses_moved(small_plan, _with(small_plan, casts))
    assert (moved.now, moved.needed, moved.days_late) == (date(2027, 7, 10), date(2027, 7, 7), 3)


def test_what_is_needed_later_is_held_against_its_own_day(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.copy()
    lining = casts.index[(casts["part"] == "wall") & (casts["course"] == 1)][-1]
    casts.loc[lining, "needed"] = pd.Timestamp("2027-05-12")
    before = _with(small_plan, casts.copy())
    casts.loc[lining, "ready"] = pd.Timestamp("2027-05-11 09:00")
    (moved,) = courses_moved(before, _with(small_plan, casts))
    assert (moved.now, moved.needed, moved.days_late) == (date(2027, 5, 11), date(2027, 5, 12), 0)
