"""Blocks that a count found are said where a plan made anew casts so many fewer: nobody is to miss them in a course."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from blockrun.planner.begun import Begun
from blockrun.planner.plan import Plan
from blockrun.show.course_rows import found_said
from blockrun.show.report.lives import Lives
from blockrun.show.report.parts import parts_shown
from blockrun.show.summary import blocks_said


def fewer(plan: Plan) -> Plan:
    """Three fulls are there for course 1, and are not cast."""
    casts = plan.tables.casts
    gone = casts.index[(casts["course"] == 1) & (casts["mark"] == "full")][:3]
    begun = Begun(since=datetime.fromisoformat("2027-04-05T07:00"), found=(("full", "light", 3),))
    return replace(plan, begun=begun, tables=replace(plan.tables, casts=casts.drop(gone)))


def test_a_part_says_what_of_it_was_found(small_plan: Plan) -> None:
    said = found_said(fewer(small_plan), "wall").replace("\N{NO-BREAK SPACE}", " ")
    assert said == "3 more were found in a count: 3 full for course 1"
    assert found_said(small_plan, "wall") == ""


def test_the_report_and_the_summary_say_it(small_plan: Plan) -> None:
    plan = fewer(small_plan)
    wall, *_ = parts_shown(plan, Lives(plan.tables.casts), solid=False)
    assert found_said(plan, "wall") in wall.said
    assert ", 3 more found in a count, poured on" in blocks_said(plan)
