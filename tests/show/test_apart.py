"""Blocks of a batch outside its card are not to be laid, wherever they are named; batch 1 of the plan of fifteen."""

from __future__ import annotations

from datetime import date
from typing import Final

from blockrun.planner.plan import Plan
from blockrun.show.apart import apart_of
from blockrun.show.calendar.entries import entries_of
from blockrun.show.calendar.entry import Entry
from blockrun.show.days import days_text
from blockrun.show.labels.stacks import stack_labels
from blockrun.show.labels.turns import mould_labels, rack_labels
from blockrun.show.page import GLUE
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.block_list import block_list
from blockrun.show.paper.day_page import day_pages
from blockrun.show.paper.week_page import week_pages
from blockrun.show.report.lives import Lives
from blockrun.show.report.page import report_page

APART: Final = frozenset({1})
LEFT: Final = "all 3 full, the half and the thin, from gang-2/01-02, tray-1/01 turn 1: batch 1, outside its card"
STRIPPED, LEAVES, READY = date(2027, 4, 6), date(2027, 4, 13), date(2027, 5, 3)


def days(plan: Plan, first: date, last: date | None = None) -> list[str]:
    return days_text(plan, 200, first, last or first, apart=APART).plain.splitlines()


def of_calendar(plan: Plan, kind: str, day: date) -> Entry:
    return next(one for one in entries_of(plan, apart=APART) if (one.kind, one.day) == (kind, day))


def test_days_do_not_call_them_ready(small_plan: Plan) -> None:
    lines = days(small_plan, READY)
    assert not any(line.startswith("Ready to lay") for line in lines)
    assert (
        "DO NOT LAY 3 full, 1 half and 1 thin of batch 1, outside its card, until its cubes pass or somebody answers "
        "for it" in lines
    )


def test_a_course_with_some_of_them_is_never_whole(small_plan: Plan) -> None:
    """Of course 1 one full is of batch 2; of course 3 one thin."""
    lines = days(small_plan, date(2027, 5, 4))
    assert any("1 full for wall course 1" in line and line.endswith("; 4 set apart") for line in lines)
    assert any("1 thin for wall course 3" in line and line.endswith("; 1 set apart") for line in lines)
    assert not any("whole" in line for line in lines)


def test_what_is_stripped_or_leaves_a_rack_says_which_to_set_apart(small_plan: Plan) -> None:
    stripped, left = days(small_plan, STRIPPED), days(small_plan, LEAVES)
    assert "      SET APART all 3 full and the half, from gang-2/01-02: batch 1, outside its card" in stripped
    assert "      SET APART the thin, from tray-1/b01: batch 1, outside its card" in stripped
    assert f"      SET APART {LEFT}" in left


def test_some_of_more_are_told_as_such_with_the_moulds_they_come_from() -> None:
    """They are among those named beside them, and not to be counted twice."""
    eight, nine = (8, "plinth", ("ring-5/03", "turn 1")), (9, "plinth", ("ring-5/04", "turn 1"))
    (apart,) = apart_of([eight, eight, nine, (8, "lining", ("tray-3/01", "turn 2"))], {8})
    assert apart.which_of_these.replace(GLUE, " ") == (
        "the lining and 2 of these 3 plinth, from ring-5/03 turn 1 and tray-3/01 turn 2: batch 8, outside its card"
    )


def test_days_without_such_a_batch_are_as_they_were(small_plan: Plan) -> None:
    plain = days_text(small_plan, 200).plain
    assert days_text(small_plan, 200, apart=frozenset({99})).plain == plain
    assert "DO NOT LAY" not in plain


def test_a_calendar_says_it_where_it_would_say_ready(small_plan: Plan) -> None:
    ready = of_calendar(small_plan, "ready", READY)
    assert ready.title == "DO NOT LAY 5 blocks of batch 1"
    assert ready.lines[0].startswith("DO NOT LAY 3 full, 1 half and 1 thin of batch 1, outside its card")
    assert any(line.startswith("SET APART all 3 full") for line in of_calendar(small_plan, "move", LEAVES).lines)
    assert any(line.startswith("SET APART all 3 full") for line in of_calendar(small_plan, "strip", STRIPPED).lines)


def test_so_do_the_pages_of_the_day_and_of_the_week(small_plan: Plan) -> None:
    asked = Asked(small_plan, READY, READY, apart=APART)
    (day,) = (one for sheet in day_pages(asked, asked.days[0]) for one in sheet.data["days"])
    assert day["ready"] == []
    assert day["apart"][0].startswith(f"3{GLUE}full, 1{GLUE}half and 1{GLUE}thin of batch{GLUE}1, outside its card")
    (week,) = week_pages(asked)
    (row,) = (row for row in week.data["weeks"][0]["rows"] if row["name"] == "Ready")
    assert row["cells"][0]["lines"] == ("DO NOT LAY: 5",)


def test_the_order_of_work_has_it_among_its_limits(small_plan: Plan) -> None:
    asked = Asked(small_plan, STRIPPED, LEAVES, apart=APART)
    limits = [
        (limit["said"], limit["of"].replace(GLUE, " "))
        for day in asked.days
        for sheet in day_pages(asked, day)
        for one in sheet.data["days"]
        for row in one["rows"]
        for limit in row["limits"]
    ]
    assert ("SET APART", "all 3 full and the half, from gang-2/01-02: batch 1, outside its card") in limits
    assert ("SET APART", LEFT) in limits


def test_the_list_of_blocks_has_it_beside_the_day(small_plan: Plan) -> None:
    rows = [row for sheet in block_list(Asked(small_plan, apart=APART)) for row in sheet.data.get("rows", [])]
    said = {(row["course"], row["mark"]): row["apart"].replace(GLUE, " ") for row in rows if row["apart"]}
    assert said == {
        ("1", "full"): "DO NOT LAY 3 of batch 1",
        ("1", "half"): "DO NOT LAY batch 1",
        ("3", "thin"): "DO NOT LAY 1 of batch 1",
    }


def test_labels_of_racks_and_stacks_are_large_with_it(small_plan: Plan) -> None:
    racks = {label.beside: label for label in rack_labels(small_plan, APART)}
    for words in racks["gang-2/01 turn 1"].wordings("SI"):
        assert (words.limit, words.when.replace(GLUE, " ")) == ("DO NOT LAY", "batch 1")
    assert racks["gang-2/01 turn 2"].wordings("SI")[0].limit == "lay from"
    (full,) = (
        label for label in stack_labels(small_plan, APART) if (label.name, label.blocks[0].course) == ("full", 1)
    )
    told = full.wordings("SI")[0]
    assert (told.limit, told.when.replace(GLUE, " ")) == ("DO NOT LAY", "3 of batch 1")
    assert "the rest: lay from Tue 4 May" in [line.replace(GLUE, " ") for line in told.lines]


def test_a_label_on_a_mould_says_it_beside_the_batch(small_plan: Plan) -> None:
    first = next(label for label in mould_labels(small_plan, apart=APART) if label.beside == "turn 1")
    told = first.wordings("SI")[0]
    assert told.limit == "strip from"
    assert any("batch 1, outside its card: SET APART" in line.replace(GLUE, " ") for line in told.lines)


def test_in_the_report_they_are_never_ready(small_plan: Plan) -> None:
    lives = Lives(small_plan.tables.casts, APART)
    assert {lives.each[number].ready for number in lives.of_cast[:5]} == {None}
    assert None not in {lives.each[number].ready for number in lives.of_cast[5:]}
    assert lives.said(lives.of_cast[0]).endswith("outside its card: DO NOT LAY")
    assert lives.counts[-1][3] == 5
    page = report_page(small_plan, apart=APART)
    assert "DO NOT LAY 3 full, 1 half and 1 thin of batch 1, outside its card" in page.replace(GLUE, " ")
    assert "DO NOT LAY" not in report_page(small_plan)
