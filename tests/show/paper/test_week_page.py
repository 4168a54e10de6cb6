"""The page of a week: days across, and what casts.csv and batches.csv say of each."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

import pytest

from blockrun.planner.begun import Begun
from blockrun.planner.plan import Plan
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.press import Sheet, print_sheets
from blockrun.show.paper.size import Paper
from blockrun.show.paper.week_page import week_pages
from tests.show.paper.conftest import HEAD
from tests.show.paper.read import read_back

MONDAY = date(2027, 4, 5)


Week = dict[str, Any]


def cells_of(week: Week, name: str) -> list[dict[str, Any]]:
    return next(list(row["cells"]) for row in week["rows"] if row["name"] == name)


@pytest.fixture(scope="module")
def sheets(demo_plan: Plan) -> list[Sheet]:
    return list(week_pages(Asked(demo_plan)))


@pytest.fixture(scope="module")
def weeks(sheets: list[Sheet]) -> list[Week]:
    return list(sheets[0].data["weeks"])


def test_a_week_is_a_page_on_its_side_and_two_quiet_ones_share_it(sheets: list[Sheet], weeks: list[Week]) -> None:
    pages = read_back(print_sheets(HEAD, sheets))
    assert [page.words.count("Week of") for page in pages] == [1, 1, 1, 1, 2, 2]
    assert len(weeks) == 8
    assert all(page.width > page.height for page in pages)
    assert "Week of Mon 5 Apr 2027" in pages[0].words


def test_every_week_has_the_cautions_at_its_foot(sheets: list[Sheet]) -> None:
    assert all("Fresh mix burns skin and eyes" in page.words for page in read_back(print_sheets(HEAD, sheets)))


def test_batches_of_each_day_are_counted(demo_plan: Plan, weeks: list[Week]) -> None:
    batches = demo_plan.tables.batches
    for n, cell in enumerate(cells_of(weeks[0], "Drum")):
        of_day = batches[batches["start"].dt.date == MONDAY + timedelta(days=n)]["batch"].tolist()
        said = " ".join(cell["lines"])
        if len(of_day) > 1:
            assert f"{len(of_day)} batches, {of_day[0]}\u2013{of_day[-1]}" in said
        else:
            assert said.startswith(f"batch {of_day[0]}") if of_day else not said


def test_the_bar_of_a_mixer_is_its_share_of_the_working_day(weeks: list[Week]) -> None:
    # 9 batches of 28 min on Monday; from 07:30 to 16:30 less 12:00 to 12:30, set-up and close-down of 20 min each
    assert cells_of(weeks[0], "Drum")[0]["full"] == pytest.approx(9 * 28 / (540 - 30 - 40))


def test_blocks_poured_are_those_of_the_casts(demo_plan: Plan, weeks: list[Week]) -> None:
    casts = demo_plan.tables.casts
    said = " ".join(cells_of(weeks[0], "Pour")[0]["lines"]).replace("\u00a0", " ")
    for mark, n in casts[casts["poured"].dt.date == MONDAY]["mark"].value_counts().items():
        assert f"{n} {mark}" in said


def test_racks_are_full_on_days_off_too(demo_plan: Plan, weeks: list[Week]) -> None:
    casts = demo_plan.tables.casts
    west = casts[casts["rack"] == "west"]
    cells = cells_of(weeks[1], "Rack west")
    for n, cell in enumerate(cells):
        night = MONDAY + timedelta(days=7 + n)
        held = ((west["rack_from"].dt.date <= night) & (west["rack_to"].dt.date > night)).sum()
        assert cell["lines"] == ((f"{held} of 80",) if held else ())


def test_sides_and_bases_are_told_apart(weeks: list[Week]) -> None:
    assert cells_of(weeks[0], "tray-3 sides")[1]["lines"] == ("3 of 3",)
    assert cells_of(weeks[0], "tray-3 bases")[1]["lines"] == ("6 of 8",)


def test_a_week_is_told_whole_whichever_of_its_days_are_asked_for(demo_plan: Plan, weeks: list[Week]) -> None:
    (sheet,) = week_pages(Asked(demo_plan, MONDAY + timedelta(days=2), MONDAY + timedelta(days=3)))
    assert sheet.data["weeks"] == weeks[:1]


def test_days_without_a_pour_say_why(sheets: list[Sheet]) -> None:
    page = read_back(print_sheets(HEAD, sheets))[1]
    assert "none: the air falls to 3 \u00b0C, and 5 \u00b0C is the least" in page.words


def test_nothing_runs_off_on_either_paper(sheets: list[Sheet]) -> None:
    for paper in Paper:
        for page in read_back(print_sheets(replace(HEAD, paper=paper), sheets)):
            assert all(15 < letter.left < letter.right < page.width - 15 for letter in page.letters)
            assert all(10 < letter.bottom < letter.top < page.height - 10 for letter in page.letters)


def test_blocks_that_become_ready_are_counted_in_all_and_then_by_part(demo_plan: Plan, weeks: list[Week]) -> None:
    casts = demo_plan.tables.casts
    ready = casts.assign(day=casts["ready"].dt.date)
    for number, week in enumerate(weeks):
        for n, cell in enumerate(
            cells_of(week, "Ready") if any(row["name"] == "Ready" for row in week["rows"]) else ()
        ):
            of_day = ready[ready["day"] == MONDAY + timedelta(days=7 * number + n)]
            lines = [line.replace("\u00a0", " ") for line in cell["lines"]]
            assert lines[:1] == ([f"{len(of_day)} in all"] if len(of_day) else [])
            parts = of_day["part"].value_counts()
            assert set(lines[1:]) == {f"{n} for {part}" if part else f"{n} spare" for part, n in parts.items()}


def test_days_before_a_plan_was_made_anew_are_told_as_over_and_not_as_idle(demo_plan: Plan) -> None:
    since = datetime.fromisoformat("2027-04-07T12:00")
    (sheet,) = week_pages(Asked(replace(demo_plan, begun=Begun(since=since)), MONDAY, MONDAY + timedelta(days=6)))
    here = [cell["lines"] for cell in cells_of(sheet.data["weeks"][0], "Here")]
    assert [lines[:1] == ("over: see the plan before",) for lines in here] == [True, True, *[False] * 5]
