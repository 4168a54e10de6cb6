"""Saw plans on paper: every cut in its order, every block where it lies, to scale."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.press import Sheet, print_sheets
from blockrun.show.paper.saw_pages import saw_pages
from blockrun.show.paper.size import Paper
from blockrun.show.saw_plans import saw_plans_of
from blockrun.show.saw_sheet import cut_said
from tests.show.paper.conftest import HEAD
from tests.show.paper.read import read_back


@pytest.fixture(scope="module")
def sheets(slabs_plan: Plan) -> list[Sheet]:
    return list(saw_pages(Asked(slabs_plan)))


def test_each_saw_plan_has_its_page_with_every_cut_in_order(slabs_plan: Plan, sheets: list[Sheet]) -> None:
    pages = read_back(print_sheets(HEAD, sheets))
    saw_plans = saw_plans_of(slabs_plan)
    assert len(pages) == len(saw_plans)
    for page, saw_plan in zip(pages, saw_plans, strict=True):
        assert f"Saw plan {saw_plan.number} " in page.words
        cuts = [cut_said(cut, saw_plan, "SI").replace("\u00a0", " ") for cut in saw_plan.sawn.cuts]
        words = page.words.replace("\u00a0", " ")
        places = [words.index(f"{number} {cut}") for number, cut in enumerate(cuts, start=1)]
        assert places == sorted(places)


def test_every_block_is_drawn_within_the_slab(sheets: list[Sheet]) -> None:
    for sheet in sheets:
        for block in sheet.data["blocks"]:
            assert 0 <= block["left"] <= block["left"] + block["length"] <= sheet.data["length"]
            assert 0 <= block["bottom"] <= block["bottom"] + block["height"] <= sheet.data["height"]


def test_blocks_are_drawn_in_proportion(sheets: list[Sheet]) -> None:
    """Six blocks of 600 x 300 mm in two columns and three rows: their names stand as far apart as the blocks do."""
    page = read_back(print_sheets(HEAD, sheets[1:2]))[0]
    names = [letter for letter in page.letters if letter.text == "A" and letter.size_pt == 13]
    lefts, bottoms = (sorted({round(getattr(name, side)) for name in names}) for side in ("left", "bottom"))
    assert (len(lefts), len(bottoms)) == (2, 3)
    across, up = lefts[1] - lefts[0], bottoms[1] - bottoms[0]
    assert across / up == pytest.approx(605 / 305, rel=0.02)


def test_only_saw_plans_of_the_days_printed_are_there(slabs_plan: Plan) -> None:
    day = date(2027, 5, 3)
    (sheet,) = saw_pages(Asked(slabs_plan, day, day))
    assert sheet.data["title"] == "Saw plan 1"


def test_a_yard_without_a_saw_has_no_such_page(demo_plan: Plan) -> None:
    assert list(saw_pages(Asked(demo_plan))) == []


@pytest.mark.parametrize("paper", Paper)
def test_nothing_runs_off_the_page(sheets: list[Sheet], paper: Paper) -> None:
    for page in read_back(print_sheets(replace(HEAD, paper=paper), sheets)):
        assert all(20 < letter.left < letter.right < page.width - 20 for letter in page.letters)
        assert all(10 < letter.bottom < letter.top < page.height - 10 for letter in page.letters)
