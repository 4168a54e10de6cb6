"""The list of cuts on paper: what a take-off says of each cut, from which block, for which courses and how many."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from blockrun.show.cautions import DUST
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.cut_list import cut_list
from blockrun.show.paper.press import Sheet
from blockrun.show.takeoff import takeoff_text
from tests.conftest import PLANS
from tests.show.paper.conftest import Printed


@pytest.fixture(scope="module")
def drawn() -> Plan:
    """A plan of walls and a dome, some of whose blocks are cut."""
    return load_plan(PLANS / "drawn")


@pytest.fixture(scope="module")
def sheets(drawn: Plan) -> dict[str, Sheet]:
    return {sheet.data["title"]: sheet for sheet in cut_list(Asked(drawn))}


def rows_of(sheets: dict[str, Sheet], title: str) -> list[dict[str, Any]]:
    return list(sheets[title].data["rows"])


def test_all_cut_blocks_of_a_part_are_on_its_sheet(drawn: Plan, sheets: dict[str, Sheet]) -> None:
    for part in ("oven", "shed"):
        asked = sum(line.count for line in drawn.ordered if line.part == part and line.cut)
        rows = rows_of(sheets, f"Cuts: {part}")
        assert sum(int(row["count"]) for row in rows) == asked > 0


def test_a_cut_is_said_as_the_takeoff_says_it_under_the_same_number(drawn: Plan, sheets: dict[str, Sheet]) -> None:
    lines = takeoff_text(drawn.order, 10_000, "SI", drawn.site).plain.replace("\u00a0", " ")
    for part in ("oven", "shed"):
        for row in rows_of(sheets, f"Cuts: {part}"):
            assert f"{row['number']}: {row['cut']}" in lines if row["number"] else row["cut"] in lines


def test_cuts_stand_in_the_order_of_their_numbers_with_their_courses(sheets: dict[str, Sheet]) -> None:
    rows = rows_of(sheets, "Cuts: oven")
    assert [row["number"] for row in rows] == [f"x{n}" for n in range(1, len(rows) + 1)]
    many = next(row for row in rows if row["number"] == "x4")
    assert (many["mark"], many["size"], many["courses"], many["count"]) == (
        "D440", "440 x 200 x 200 mm, light", "3 (20)", "20"
    )  # fmt: skip


def test_measures_are_in_the_units_of_the_site(drawn: Plan) -> None:
    plan = replace(drawn, site=drawn.site.model_copy(update={"units": "US"}))
    sheet = next(sheet for sheet in cut_list(Asked(plan)) if sheet.data["title"] == "Cuts: oven")
    first = sheet.data["rows"][0]
    assert first["cut"] == "saw off the left end, to 8 1/16 in long at the bottom, 7 15/16 in at the top inside"
    assert not any(" mm" in row["cut"] + row["size"] for row in sheet.data["rows"])


def test_the_page_is_printed_with_its_caution(sheets: dict[str, Sheet], printed: Printed) -> None:
    page = printed(sheets["Cuts: oven"])[0]
    assert "Cuts: oven" in page
    assert "x1 saw off the left end, to 204 mm long" in page
    assert DUST in page


def test_nothing_is_printed_where_nothing_is_cut(small_plan: Plan) -> None:
    assert not list(cut_list(Asked(small_plan)))


def test_a_number_is_asked_for_where_pieces_have_one(sheets: dict[str, Sheet], printed: Printed) -> None:
    assert "Write its number on each piece." in sheets["Cuts: oven"].data["said"]
    shed = sheets["Cuts: shed"]
    bare = {**shed.data, "rows": [{**row, "number": ""} for row in shed.data["rows"]], "numbered": False}
    (page, *_) = printed(Sheet("cut_list", bare))
    assert "what to mark and saw" in page
    assert "cut what to mark" not in page
