"""A workbook read back cell by cell by another library than the one that wrote it, and its XML for how it looks."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any
from xml.etree import ElementTree

import pandas as pd
import pytest
from python_calamine import CalamineWorkbook

from blockrun.errors import BadInput
from blockrun.planner.columns import COLUMNS
from blockrun.planner.plan import Plan
from blockrun.planner.supplies import materials_of
from blockrun.planner.uses import AGENT, uses_of
from blockrun.show.workbook.sheets import NAMES, courses_of, sheets_of
from blockrun.show.workbook.xlsx import FORMATS, workbook_of

MADE = datetime(2027, 3, 1, 18, 30, tzinfo=UTC)
MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"


def read(plan: Plan, apart: frozenset[int] = frozenset()) -> dict[str, list[list[Any]]]:
    book = CalamineWorkbook.from_filelike(io.BytesIO(workbook_of(plan, MADE, apart=apart)))
    return {name: book.get_sheet_by_name(name).to_python() for name in book.sheet_names}


def pages(plan: Plan) -> dict[str, ElementTree.Element]:
    """The XML of each sheet by its name."""
    with zipfile.ZipFile(io.BytesIO(workbook_of(plan, MADE))) as archive:
        book = ElementTree.fromstring(archive.read("xl/workbook.xml"))
        names = [str(sheet.get("name")) for sheet in book.iter(f"{MAIN}sheet")]
        return {
            name: ElementTree.fromstring(archive.read(f"xl/worksheets/sheet{number}.xml"))
            for number, name in enumerate(names, start=1)
        }


def plain(value: object) -> object:
    """A value of a table as a workbook can hold it: whole days as such, nothing as nothing."""
    if value is pd.NA or value is pd.NaT or value is None:
        return ""
    if isinstance(value, pd.Timestamp):
        return value.to_pydatetime()
    return value


def told(cell: object) -> object:
    """A cell as it is read, whole days as moments."""
    return datetime(cell.year, cell.month, cell.day) if type(cell).__name__ == "date" else cell  # type: ignore[attr-defined]  # noqa: DTZ001


def renamed(plan: Plan, **names: str) -> Plan:
    """The plan with other names in the table of blocks, by column."""
    casts = plan.tables.casts.assign(
        **{column: pd.Series(name, plan.tables.casts.index, "str") for column, name in names.items()}
    )
    return replace(plan, tables=replace(plan.tables, casts=casts))


def in_us(plan: Plan) -> Plan:
    return replace(plan, site=plan.site.model_copy(update={"units": "US"}))


@pytest.mark.parametrize("which", ["small_plan", "demo_plan", "slabs_plan"])
def test_every_cell_of_every_table_is_read_back(which: str, request: pytest.FixtureRequest) -> None:
    plan: Plan = request.getfixturevalue(which)
    sheets = read(plan)
    for table, name in NAMES.items():
        frame = getattr(plan.tables, table)
        if frame.empty:
            assert name not in sheets
            continue
        head, *rows = sheets[name]
        if table == "materials":  # two of its own follow
            head, rows = head[:-2], [row[:-2] for row in rows]
        assert head == list(COLUMNS[table])
        assert [[told(cell) for cell in row] for row in rows] == [
            [plain(value) for value in row] for row in frame.astype("object").itertuples(index=False)
        ]


def test_the_agent_left_is_told_with_the_foam_weighed_before_batches_too(small_plan: Plan) -> None:
    """One, one and two batches on three days, before each 0.95 L of foam weighed, one part in 41 of it agent."""
    head, *rows = read(small_plan)["Materials"]
    assert head[-3:] == ["agent_left_l", "agent_to_weigh_foam_l", "agent_left_after_weighing_l"]
    a_bucket = 0.95 / 41
    used = [row[-2] for row in rows]
    assert used == pytest.approx([a_bucket, a_bucket, 2 * a_bucket])
    (agent,) = [one for one in materials_of(small_plan.site, uses_of(small_plan)) if one.name == AGENT]
    assert [row[-1] for row in rows] == pytest.approx([agent.left_on(row[0]) for row in rows])
    assert rows[-1][-1] == pytest.approx(rows[-1][-3] - 4 * a_bucket, abs=1e-5)


def test_sheets_are_named_in_plain_words(slabs_plan: Plan) -> None:
    assert list(read(slabs_plan)) == ["Summary", "Courses", "Blocks", "Batches", "Work", "Materials", "Sawing"]


def test_courses_tell_when_they_are_whole_and_how_late(small_plan: Plan) -> None:
    head, *rows = read(small_plan)["Courses"]
    assert head == ["part", "course", "blocks", "first_ready", "last_ready", "needed", "days_late"]
    assert [row[:3] for row in rows] == [["wall", 1, 5], ["wall", 3, 2], ["wall", 2, 4]]
    assert [str(row[4])[:10] for row in rows] == ["2027-05-04", "2027-05-04", "2027-05-06"]
    assert [str(row[5]) for row in rows] == ["2027-05-04", "", "2027-05-05"]
    assert [row[6] for row in rows] == [0, 0, 1]


def test_courses_hold_every_block_but_the_spares(demo_plan: Plan) -> None:
    assert courses_of(demo_plan)["blocks"].sum() == demo_plan.totals["blocks"]


def test_the_summary_holds_the_stages_as_numbers_and_days(small_plan: Plan) -> None:
    rows = read(small_plan)["Summary"]
    assert rows[0][0] == "Hand yard: Garden wall"
    assert rows[3] == ["", "this plan", "best possible", "proven"]
    assert rows[4] == ["block-days late", 2, 0, "no"]
    assert [str(cell) for cell in rows[5]] == ["last pour", "2027-04-08", "2027-04-08", "yes"]
    assert rows[7] == ["cement, kg", 275.0, 262.5, "no"]
    assert any(row[0] == "note" for row in rows)
    assert rows[-1][0].startswith("Fresh mix burns")


def test_what_is_measured_is_in_the_units_of_the_site_and_says_so(small_plan: Plan) -> None:
    sheets = read(in_us(small_plan))
    head, first, *_ = sheets["Batches"]
    was = small_plan.tables.batches.iloc[0]
    row = dict(zip(head, first, strict=True))
    assert row["cement_lb"] == pytest.approx(was["cement_kg"] / 0.45359237)
    assert row["foam_gal"] == pytest.approx(was["foam_l"] / 3.785411784)
    assert row["bags"] == was["bags"]
    assert not [name for sheet in sheets.values() for name in map(str, sheet[0]) if re.search("_(kg|l|mm)$", name)]
    assert sheets["Summary"][7][0] == "cement, lb"


def test_the_summary_is_written_as_the_site_writes(small_plan: Plan) -> None:
    long = "Wait until Thu 8 Apr 2027: 12500 kg, and 41 degF."
    told = [str(cell) for row in read(replace(in_us(small_plan), warnings=(long,)))["Summary"] for cell in row]
    assert "Wait until Thu Apr 8, 2027: 12,500 kg, and 41 °F." in told


def test_blocks_set_apart_are_told_and_marked(small_plan: Plan) -> None:
    book = read(small_plan, frozenset({1}))
    said = "3 full, 1 half and 1 thin of batch 1, outside its card, until its cubes pass or somebody answers for it"
    assert ["DO NOT LAY", said] in [row[:2] for row in book["Summary"]]
    head, *rows = book["Blocks"]
    marked = [row[head.index("batch")] for row in rows if row[head.index("set_apart")]]
    assert marked == [1] * 5
    assert "set_apart" not in read(small_plan)["Blocks"][0]


def test_warnings_are_said_as_a_tape_shows_them(small_plan: Plan) -> None:
    cells = [cell for row in read(replace(small_plan, warnings=("Is 15.625 in right?",)))["Summary"] for cell in row]
    assert "Is 15 5/8 in right?" in cells


def test_agent_of_a_batch_shows_three_decimals_for_a_gallon_is_much_of_it(small_plan: Plan) -> None:
    columns = {column.name: column for sheet in sheets_of(in_us(small_plan)) for column in sheet.columns}
    assert FORMATS[columns["agent_gal"].kind] == "#,##0.000"
    assert FORMATS[columns["foam_gal"].kind] == "#,##0.00"


def test_lengths_of_cuts_are_inches_where_the_site_has_them(slabs_plan: Plan) -> None:
    head, first, *_ = read(in_us(slabs_plan))["Sawing"]
    assert head[-2:] == ["length_in", "height_in"]
    assert first[-2] == pytest.approx(slabs_plan.tables.sawing["length_mm"].iloc[0] / 25.4)


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        "=cmd|' /C calc'!A0",
        "0012",
        "1e5",
        "TRUE",
        "http://a.b",
        "{=A1}",
        "\t=1",
        "2027-04-05",
    ],
)
def test_text_stays_text_whatever_it_begins_with(small_plan: Plan, text: str) -> None:
    plan = renamed(small_plan, mark=text, part=text)
    assert {row[3] for row in read(plan)["Blocks"][1:]} == {text}
    for page in pages(plan).values():
        assert not list(page.iter(f"{MAIN}f"))
        assert not list(page.iter(f"{MAIN}hyperlink"))


def test_every_letter_of_a_name_comes_through(small_plan: Plan) -> None:
    text = "Größe <&> \"'\u2019 \u4e2d _x0041_ \U0001f9f1"
    assert {row[3] for row in read(renamed(small_plan, mark=text))["Blocks"][1:]} == {text}


def test_a_name_too_long_for_a_cell_is_refused_in_words(small_plan: Plan) -> None:
    with pytest.raises(BadInput, match="longer than a cell of a workbook holds"):
        workbook_of(renamed(small_plan, mark="x" * 32768), MADE)
    assert read(renamed(small_plan, mark="x" * 32767))["Blocks"][1][3] == "x" * 32767


def test_heads_stay_and_can_be_filtered(small_plan: Plan) -> None:
    for name, page in pages(small_plan).items():
        pane, chosen = page.find(f".//{MAIN}pane"), page.find(f"{MAIN}autoFilter")
        if name == "Summary":
            assert (pane, chosen) == (None, None)
            continue
        assert pane is not None
        assert chosen is not None
        assert (pane.get("state"), pane.get("ySplit"), pane.get("topLeftCell")) == ("frozen", "1", "B2")
        rows, columns = len(read(small_plan)[name]), len(read(small_plan)[name][0])
        assert chosen.get("ref") == f"A1:{chr(ord('A') + columns - 1)}{rows}"


def test_columns_are_wide_enough_for_their_heads_and_what_is_in_them(small_plan: Plan) -> None:
    long = renamed(small_plan, mark="a mark of some thirty letters....", part="p" * 300)
    columns = {
        number: float(str(one.get("width")))
        for one in pages(long)["Blocks"].iter(f"{MAIN}col")
        for number in range(int(str(one.get("min"))), int(str(one.get("max"))) + 1)
    }
    head = list(COLUMNS["casts"])
    assert columns[head.index("mark") + 1] > 33
    assert 40 <= columns[head.index("part") + 1] < 45
    assert all(columns[number] > len(name) for number, name in enumerate(head, start=1))


def test_it_prints_across_the_page_with_the_heads_on_each(small_plan: Plan) -> None:
    for plan, paper in ((small_plan, "9"), (in_us(small_plan), "1")):
        set_up = pages(plan)["Blocks"].find(f"{MAIN}pageSetup")
        assert set_up is not None
        assert (set_up.get("orientation"), set_up.get("paperSize"), set_up.get("fitToHeight")) == (
            "landscape",
            paper,
            "0",
        )


def test_the_same_plan_is_the_same_bytes(demo_plan: Plan) -> None:
    assert workbook_of(demo_plan, MADE) == workbook_of(demo_plan, MADE)
    assert workbook_of(demo_plan, None) == workbook_of(demo_plan, None)


def test_it_says_when_the_plan_was_made(small_plan: Plan) -> None:
    with zipfile.ZipFile(io.BytesIO(workbook_of(small_plan, MADE))) as archive:
        assert "2027-03-01T18:30:00Z" in archive.read("docProps/core.xml").decode()


def test_it_says_which_plan_it_is_on_its_first_sheet_and_at_the_foot_of_each(small_plan: Plan) -> None:
    held = workbook_of(in_us(small_plan), MADE, "plan 3 of Mon 1 Mar 2027, 18:30")
    front = CalamineWorkbook.from_filelike(io.BytesIO(held)).get_sheet_by_name("Summary").to_python()
    assert front[1][0] == "Plan 3 of Mon Mar 1, 2027, 18:30"
    with zipfile.ZipFile(io.BytesIO(held)) as archive:
        sheets = [name for name in archive.namelist() if name.startswith("xl/worksheets/sheet")]
        assert all("&amp;A, plan 3 of Mon Mar 1, 2027" in archive.read(name).decode() for name in sheets)


def test_days_show_as_on_the_paper_of_the_yard(small_plan: Plan) -> None:
    for plan, code in ((small_plan, "ddd d mmm yyyy"), (in_us(small_plan), "ddd mmm d, yyyy")):
        with zipfile.ZipFile(io.BytesIO(workbook_of(plan, MADE))) as archive:
            styles = archive.read("xl/styles.xml").decode()
        assert f'formatCode="{code}"' in styles
        assert f'formatCode="{code} hh:mm"' in styles


def test_sentences_of_the_first_sheet_are_wrapped_over_several_columns(small_plan: Plan) -> None:
    front = pages(replace(small_plan, warnings=("A long note. " * 40,)))["Summary"]
    merged = {cell.get("ref", "") for cell in front.iter(f"{MAIN}mergeCell")}
    assert any(re.fullmatch(r"B\d+:D\d+", ref) for ref in merged)
    assert max(float(row.get("ht", 0)) for row in front.iter(f"{MAIN}row")) > 60
