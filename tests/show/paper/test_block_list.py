"""The list of blocks says what casts.csv holds, and marks what is late."""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pandas as pd
import pytest

from blockrun.files.day_names import day_name
from blockrun.planner.plan import Plan
from blockrun.show.cautions import SHORT
from blockrun.show.course_rows import course_rows
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.block_list import block_list
from blockrun.show.paper.size import Paper
from tests.conftest import PLANS
from tests.show.paper.as_if import LONG, forty_marks, tool_store
from tests.show.paper.conftest import Printed

Key = tuple[str, str, str]
"""Part, course and mark, as they are written."""


def saved_casts() -> dict[Key, list[dict[str, str]]]:
    """Rows of the demo's casts.csv by part, course and mark; the spares without a part."""
    found = defaultdict(list)
    with (PLANS / "demo" / "casts.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):
            found[row["part"], row["course"], row["mark"]].append(row)
    return found


def day_of(written: str) -> date:
    return datetime.fromisoformat(written).date()


def text_of(plan: Plan, printed: Printed, paper: Paper = Paper.A4) -> str:
    return " ".join(printed(*block_list(Asked(plan)), paper=paper)).replace("\x02", "-")  # so a line ends


@pytest.mark.parametrize("paper", list(Paper))
def test_every_course_and_mark_is_listed_as_casts_csv_has_it(demo_plan: Plan, printed: Printed, paper: Paper) -> None:
    text = text_of(demo_plan, printed, paper)
    for (_, course, mark), casts in saved_casts().items():
        rows = [row[:160] for row in text.split(f" {course} {mark} ".replace("  ", " "))[1:]]
        poured = [day_of(cast["poured"]) for cast in casts]
        ready = day_name(max(day_of(cast["ready"]) for cast in casts))
        needed = "".join({f" {day_name(day_of(cast['needed']))}" for cast in casts if cast["needed"]})
        begin = f" {len(casts)} {day_name(min(poured)).rpartition(' ')[0]}"
        end = f"{day_name(max(poured))} {ready}{needed}"
        assert any(begin in row and end in row for row in rows), (course, mark)


def test_sheets_of_blocks_and_pictures_of_walls_carry_the_short_cautions(printed: Printed) -> None:
    sheets = list(block_list(Asked(tool_store())))
    assert {sheet.template for sheet in sheets} == {"block_list", "picture"}
    assert all(SHORT in page for page in printed(*sheets))


def test_rows_count_every_cast_once(demo_plan: Plan) -> None:
    rows = course_rows(demo_plan)
    assert sum(row.count for row in rows) == sum(map(len, saved_casts().values()))
    assert len({(row.part, row.course, row.mark, row.mix) for row in rows}) == len(rows)
    assert not rows[-1].part


def test_what_is_late_says_by_how_much_in_words(demo_plan: Plan, printed: Printed) -> None:
    casts = demo_plan.tables.casts.copy()
    row = next(row for row in course_rows(demo_plan) if row.needed and row.count > 2)
    of_row = (casts["part"] == row.part) & (casts["course"] == row.course) & (casts["mark"] == row.mark)
    casts.loc[casts.index[of_row][0], "ready"] = pd.Timestamp(row.needed) + pd.Timedelta(days=3, hours=9)
    late = replace(demo_plan, tables=replace(demo_plan.tables, casts=casts))
    text = text_of(late, printed)
    assert f"{day_name(row.needed or row.ready)} LATE 3 days 1 of {row.count}" in text
    assert "; 1 block LATE" in text
    assert "LATE" not in text_of(demo_plan, printed)


def test_walls_tell_their_openings_and_that_lintels_are_for_an_engineer(printed: Printed) -> None:
    text = text_of(tool_store(), printed)
    assert "lintel (E)" in text
    assert "hollow to a trough (on 3)" in text
    said = (
        "Lintels and ring beams, marked E here and L or R on the pictures, are to be designed by a licensed engineer."
    )
    assert said in text
    assert "hatch 4200 600 617 1242" in text
    assert "hatch: sill written 620 mm, laid 616.7 mm" in text


def test_elevations_of_a_wall_follow_its_list_in_the_largest_scale_that_fits(printed: Printed) -> None:
    pages = printed(*block_list(Asked(tool_store())))
    number = next(index for index, page in enumerate(pages) if "drawn 1:30" in page)
    assert "Blocks: yard" in pages[number - 2] + pages[number - 1]
    assert "W600-2 L" in pages[number]


def test_cut_blocks_of_a_dome_are_told_by_the_numbers_of_their_pieces() -> None:
    row = next(row for row in course_rows(tool_store()) if (row.part, row.course) == ("store", 7))
    assert row.cuts == (("x8", 1), ("x9", 19), ("x10", 1), ("x11", 1))
    assert row.count == 22


def test_a_cut_and_on_how_many_blocks_it_is_made_do_not_read_as_a_product(printed: Printed) -> None:
    text = " ".join(printed(*block_list(Asked(tool_store()))))
    assert "cut x9 (on 19)" in text
    assert not re.search(r"\d x\d+\b(?! (x|mm))", text)


@pytest.mark.parametrize(("units", "paper", "size"), [("SI", Paper.A4, "600 x 300"), ("US", Paper.LETTER, "23 5/8 x")])
def test_forty_long_marks_stand_whole(tmp_path: Path, printed: Printed, units: str, paper: Paper, size: str) -> None:
    text = text_of(forty_marks(tmp_path, units), printed, paper).replace(" ", "")
    assert f"Blocks: {LONG}".replace(" ", "") in text
    assert f"block-with-a-long-name-00light{size}".replace(" ", "") in text
    for number in range(40):
        assert f"1block-with-a-long-name-{number:02}light" in text


def test_cuts_of_a_us_yard_are_as_a_tape_shows_them() -> None:
    """The list of cuts says them so; the list of blocks beside it said 9.375 in."""
    plan = tool_store()
    american = replace(plan, site=plan.site.model_copy(update={"units": "US"}))
    cuts = [row["cuts"] for sheet in block_list(Asked(american)) for row in sheet.data.get("rows", [])]
    assert any(cuts)
    assert not any(re.search(r"\d\.\d+ in\b|\d mm\b", cut) for cut in cuts)


def test_cautions_of_a_wall_come_first_among_its_notes() -> None:
    sheets = [sheet for sheet in block_list(Asked(tool_store())) if sheet.data.get("notes")]
    assert sheets
    for sheet in sheets:
        are = [note.startswith("Caution:") for note in sheet.data["notes"]]
        assert any(are)
        assert are == sorted(are, reverse=True)
