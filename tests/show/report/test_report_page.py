"""The page as a file: whole, alone, small, the same each time, with the numbers of the plan's own tables."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

import pytest

from blockrun.files.day_names import day_name
from blockrun.planner.plan import Plan
from blockrun.planner.why.held import Held, held
from blockrun.show.report.page import report_page
from tests.show.report.read import Page, counted_by_hand

FIRST: Final = date(2027, 4, 5)
MEGABYTE: Final = 1_000_000
MOST_A_BLOCK: Final = 500
"""Ten thousand blocks are to stay under five megabytes."""


# the file


@pytest.mark.parametrize("plan", ["small_plan", "demo_plan", "slabs_plan", "drawn_plan"])
@pytest.mark.parametrize("solid", [False, True])
def test_every_element_is_closed_and_every_id_is_there_once(
    request: pytest.FixtureRequest, plan: str, solid: bool
) -> None:
    page = Page(report_page(request.getfixturevalue(plan), solid=solid))
    ids = Counter(element.attributes["id"] for element in page.every() if "id" in element.attributes)
    assert [name for name, count in ids.items() if count > 1] == []
    named = {
        element.attributes[key]
        for element in page.every()
        for key in ("aria-labelledby", "for")
        if key in element.attributes
    }
    linked = {link.attributes["href"].removeprefix("#") for link in page.root.all("a")}
    painted = set(re.findall(r"url\(#([^)]+)\)", page.text))
    assert named | linked | painted <= set(ids)


def test_the_page_asks_for_nothing_outside_itself(solid_page: Page) -> None:
    assert not any({"src", "srcset", "action", "data"} & element.attributes.keys() for element in solid_page.every())
    assert {link.attributes["href"][0] for link in solid_page.root.all("a")} == {"#"}
    assert list(solid_page.root.all("link")) == []
    assert re.findall(r"https?:|@import|fetch\(|url\((?!#)", solid_page.text) == []


def test_the_page_is_the_same_byte_for_byte(drawn_plan: Plan, solid_page: Page) -> None:
    assert report_page(drawn_plan, solid=True) == solid_page.text


def test_the_page_of_an_order_that_is_drawn_is_small(drawn_plan: Plan, drawn_page: Page, solid_page: Page) -> None:
    bare = len(drawn_page.text.encode())
    blocks = "".join(re.findall(r'<path d="M[^>]*><title>.*?</title></path>\n', drawn_page.text))
    assert bare < MEGABYTE
    assert len(solid_page.text.encode()) < MEGABYTE
    assert 0 < len(blocks.encode()) / blocks.count("<path") < MOST_A_BLOCK


def test_landmarks_and_headings_go_down_one_by_one(drawn_page: Page) -> None:
    assert {"header", "nav", "main", "footer"} <= {element.name for element in drawn_page.every()}
    levels = [int(level) for level in re.findall(r"<h([1-6])", drawn_page.text)]
    assert levels[0] == 1
    assert all(below <= level + 1 for level, below in itertools.pairwise(levels))
    assert levels.count(1) == 1


def test_text_of_the_user_is_escaped(solid_page: Page) -> None:
    assert solid_page.root.one("h1").words == 'Shed & "dome" <i>'
    assert "a wall & its <gate> with a name as long as names may be" in solid_page.root.words
    assert 'door "<x>"' in [text.words for text in solid_page.root.all("text")]
    assert "Rack west <2>" in [heading.words for heading in solid_page.root.all("h3")]
    for raw in ("<i>", "<gate>", "<x>", "<edge>", "<2>"):
        assert raw not in solid_page.text


# the summary


def test_each_stage_stands_with_the_best_possible_in_words(drawn_page: Page) -> None:
    cards = [card.words.split() for card in drawn_page.root.one("dl", class_="stages").inside]
    assert cards[0][:7] == ["Block-days", "late", "1056", "Best", "possible", "924:", "not"]
    assert " ".join(cards[1]).startswith("Last pour Thu 6 May 2027 The best possible (proven).")
    assert " ".join(cards[2]).startswith("Batches 29 Best possible 27: not proven, 2 more at most.")
    assert drawn_page.root.one("dl", class_="stages").inside[1].has("class_", "proven")


def test_the_best_possible_may_be_parted_at_its_blanks(drawn_plan: Plan) -> None:
    """Glued it is wider than its box on a phone, and the browser parts it before a colon."""
    stages = [
        replace(one, bound=one.value - timedelta(days=2), proven=False) if isinstance(one.value, date) else one
        for one in drawn_plan.stages
    ]
    page = report_page(replace(drawn_plan, stages=tuple(stages)))
    assert "Best possible Tue 4 May 2027: not proven, 2 days later at most." in page


def test_warnings_cautions_and_what_is_late_are_all_there(drawn_plan: Plan, drawn_page: Page) -> None:
    lines = {line.words for line in drawn_page.root.all("li")}
    assert set(drawn_plan.warnings) <= lines
    assert any("licensed engineer" in line and line.startswith("Strength is not promised") for line in lines)
    assert "oven course 3: needed Sat\u00a015\u00a0May, 20 of it late, all there on Fri\u00a021\u00a0May" in lines


def test_a_site_in_us_units_has_its_dates_and_amounts_that_way(drawn_plan: Plan) -> None:
    american = replace(drawn_plan, site=drawn_plan.site.model_copy(update={"units": "US"}))
    page = Page(report_page(american))
    cards = [" ".join(card.words.split()) for card in page.root.one("dl", class_="stages").inside]
    assert cards[1].startswith("Last pour Thu May 6, 2027")
    assert cards[3].startswith("Cement 5,980 lb")
    assert page.table("Blocks in each state, in the evening")[1][0] == "Mon Apr 5"
    assert '"month_first":true' in page.root.one("script").words


# the same numbers as the tables


def test_the_table_of_dates_counts_as_casts_csv_does(drawn_page: Page, drawn_casts: list[dict[str, str]]) -> None:
    heads, *rows = drawn_page.table("Blocks in each state, in the evening")
    assert heads == ["day", "to pour", "in moulds", "on racks", "off racks", "ready", "laid"]
    for number, (day, *counts) in enumerate(rows):
        on = FIRST + timedelta(days=number)
        assert (day, [int(count) for count in counts]) == (day_name(on), counted_by_hand(drawn_casts, on))
    last = max(max(cast["ready"][:10], cast["needed"][:10]) for cast in drawn_casts)
    assert (FIRST + timedelta(days=len(rows) - 1)).isoformat() == last


def test_what_is_shown_without_script_is_the_row_of_its_day(drawn_page: Page) -> None:
    shown = drawn_page.root.one("output").words.removesuffix(" 2027")
    row = next(row for row in drawn_page.table("Blocks in each state, in the evening") if row[0] == shown)
    assert [one.words for one in drawn_page.root.one("ul", class_="legend").all("b")] == row[1:]


def test_every_block_is_drawn_once_in_the_state_of_its_cast(
    drawn_page: Page, drawn_casts: list[dict[str, str]]
) -> None:
    shown = drawn_page.root.one("input", id="date").attributes["value"]
    drawn = Counter(
        int(group.attributes["class"].removeprefix("s"))
        for group in drawn_page.root.all("g")
        if "data-life" in group.attributes
        for _ in group.all("path")
    )
    placed = [cast for cast in drawn_casts if cast["part"] not in {"", "blocks"}]
    expected = counted_by_hand(placed, date.fromisoformat(shown))
    assert [drawn[state] for state in range(len(expected))] == expected


def test_every_cast_of_a_part_is_dealt_to_one_block_with_its_mark_and_course(
    drawn_page: Page, drawn_casts: list[dict[str, str]]
) -> None:
    """A title tells mark, course, mould and batch: with the day of the pour these tell a cast."""
    groups = (group for group in drawn_page.root.all("g") if "data-life" in group.attributes)
    titles = [title.words for group in groups for title in group.all("title")]
    said = Counter(
        (
            title.split(", course ")[0],
            re.search(r"course (\d+)", title)[1],
            re.search(r"mould (\S+), batch (\d+)", title).groups(),
        )
        for title in titles
    )
    placed = [cast for cast in drawn_casts if cast["part"] not in {"", "blocks"}]
    assert said == Counter((cast["mark"], cast["course"], (cast["mould"], cast["batch"])) for cast in placed)


@pytest.mark.parametrize(
    ("caption", "part"),
    [("Dome oven by course", "oven"), ("List blocks by course", "blocks"), ("Wall shed by course", "shed")],
)
def test_the_table_of_a_part_counts_its_courses(
    drawn_page: Page, drawn_casts: list[dict[str, str]], caption: str, part: str
) -> None:
    day = date.fromisoformat(drawn_page.root.one("input", id="date").attributes["value"])
    _, *rows = drawn_page.table(caption)
    assert [row[0] for row in rows] == sorted({cast["course"] for cast in drawn_casts if cast["part"] == part}, key=int)
    for course, blocks, _, *counts in rows:
        of = [cast for cast in drawn_casts if (cast["part"], cast["course"]) == (part, course)]
        assert int(blocks) == len(of)
        assert [int(count) for count in counts[:6]] == counted_by_hand(of, day)
        assert counts[7] == day_name(date.fromisoformat(max(cast["ready"] for cast in of)[:10]))


def test_moulds_batches_racks_and_people_are_counted_as_the_tables_do(drawn_plan: Plan, drawn_page: Page) -> None:
    tables = drawn_plan.tables
    _, *moulds = drawn_page.table("Moulds, when each is full")
    turns = tables.casts.groupby("mould")["turn"].nunique()
    assert {name: int(times) for name, times, *_ in moulds if times != "0"} == turns.to_dict()
    assert sum(int(blocks) for _, _, blocks, _ in moulds) == len(tables.casts)
    _, *batches = drawn_page.table("Mixer drum, batches by day")
    by_day = tables.batches.groupby(tables.batches["start"].dt.date)["bags"].agg(["count", "sum"])
    assert [(row[0], int(row[1]), float(row[2])) for row in batches] == [
        (day_name(day), count, bags) for day, count, bags in by_day.itertuples()
    ]
    _, *racked = drawn_page.table("Rack west <2>, blocks at its fullest by day")
    assert max(int(blocks) for _, blocks, _ in racked) <= 60
    _, *people = drawn_page.table("People, work by day")
    hours = (tables.tasks["people"] * (tables.tasks["end"] - tables.tasks["start"]).dt.total_seconds()).sum() / 3600
    assert sum(float(row[2]) for row in people) == pytest.approx(hours, abs=0.01)
    assert next(row for row in people if row[0] == "Wed 21 Apr")[1] == "3"


def test_the_stack_is_fullest_when_the_summary_says(drawn_page: Page) -> None:
    _, *taken = drawn_page.table("Stack, places taken by day")
    assert max(taken, key=lambda row: int(row[1]))[:2] == ["Thu 13 May", "69"]


def test_bases_that_all_stay_empty_have_no_chart(drawn_page: Page, demo_plan: Plan) -> None:
    assert "Bases" not in [heading.words for heading in drawn_page.root.all("h3")]
    assert "Bases" in [heading.words for heading in Page(report_page(demo_plan)).root.all("h3")]


def test_fillers_whose_turns_are_in_no_table_have_no_lane(slabs_plan: Plan) -> None:
    _, *moulds = Page(report_page(slabs_plan)).table("Moulds, when each is full")
    assert {name.split("/")[0] for name, *_ in moulds} == {"gang-4", "slab"}


def test_every_picture_has_its_table(drawn_page: Page) -> None:
    for figure in drawn_page.root.all("figure"):
        assert figure.one("svg").attributes["role"] == "img"
        assert figure.one("svg").attributes["aria-label"]
    charts = [figure for figure in drawn_page.root.all("figure") if list(figure.all("svg", class_="chart"))]
    assert len(charts) > 8
    assert all(len(list(figure.all("table"))) == 1 for figure in charts)
    for article in drawn_page.root.all("article"):
        assert len(list(article.all("table"))) == 1


def test_a_list_has_a_table_and_no_drawing(demo_plan: Plan) -> None:
    page = Page(report_page(demo_plan))
    assert list(page.root.all("svg", class_="mm")) == []
    assert len(page.table("List blocks by course")) > 1
    assert "interchangeable" not in page.root.words


def test_a_plan_in_which_nothing_waits_says_so(small_plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    said = "Nothing ran out while blocks were still to pour."
    assert said not in Page(report_page(small_plan)).root.words
    last_day = Held(held(small_plan).days[-1:], ())
    monkeypatch.setattr("blockrun.show.report.page.held", lambda plan: last_day)
    assert said in Page(report_page(small_plan)).root.words


def test_warnings_are_said_as_a_tape_shows_them(small_plan: Plan) -> None:
    page = report_page(replace(small_plan, warnings=("Nothing fits gang-6 (15.625 x 7.625 x 7.625 in).",)))
    assert "gang-6 (15 5/8 x 7 5/8 x 7 5/8 in)" in " ".join(page.split())


def test_no_line_of_the_page_ends_within_a_fraction(small_plan: Plan) -> None:
    page = report_page(replace(small_plan, warnings=("Nothing fits gang-6 (15.625 x 7.625 x 7.625 in).",)))
    assert "gang-6 (15\u00a05/8 x 7\u00a05/8 x 7\u00a05/8\u00a0in)" in page
