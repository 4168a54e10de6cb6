"""Headers of one row and of two, and merged cells: what people make of a table to look at."""

from __future__ import annotations

from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.tables import Table, read_table
from tests.files.test_files_tables import rows_of, workbook

SIDES = ("length", "height")
COLUMNS = Columns(
    (("mark",), *((f"{side}_mm", f"{side}_in") for side in SIDES), ("count",)), ("course", "mix"), ("count",)
)
NAMES = ("mark", "length_mm", "height_mm", "count")
ROW = ["A", 600, 300, 4]
Rows = list[list[object]]


def sheet(folder: Path, rows: Rows, *merged: str) -> Table:
    return read_table(workbook(folder / "a.xlsx", rows, merged), COLUMNS)


def text(folder: Path, written: str) -> Table:
    (folder / "a.csv").write_text(written)
    return read_table(folder / "a.csv", COLUMNS)


def refused(folder: Path, rows: Rows, *merged: str) -> list[str]:
    with pytest.raises(BadInput) as caught:
        sheet(folder, rows, *merged)
    return [f"{fault.cell}: {fault.what} {fault.todo}" for fault in caught.value.all()]


@pytest.mark.parametrize(
    ("header", "merged"),
    [
        ([["mark", "size", "", "count"], ["", "length_mm", "height_mm", ""]], ["A1:A2", "B1:C1", "D1:D2"]),
        ([["mark", "Size (mm)", "", "count"], ["", "length", "height", ""]], ["A1:A2", "B1:C1", "D1:D2"]),
        ([["mark", "Size (mm)", "", "count"], ["", "length", "height", ""]], ["B1:C1"]),
        ([["", "Size (mm)", "", ""], ["mark", "length", "height", "count"]], ["B1:C1"]),
        ([["", "Size, mm", "", ""], ["Mark", "Length", "Height", "Count"]], ["B1:C1"]),
        ([["Blocks of the store (mm)"], ["mark", "length", "height", "count"]], ["A1:D1"]),
        ([["Blocks"], ["mark", "size in mm", "", "count"], ["", "length", "height", ""]], ["A1:D1", "B2:C2", "A2:A3"]),
        ([["mark", "length", "height", "count"], ["", "mm", "mm", ""]], ["A1:A2", "D1:D2"]),
        ([["Mark", "Length (mm)", "Height [mm]", "Count"], []], ["A1:A2", "B1:B2", "C1:C2", "D1:D2"]),
    ],
)
def test_a_header_is_read_however_it_is_merged(tmp_path: Path, header: Rows, merged: list[str]) -> None:
    found = sheet(tmp_path, [*header, ROW], *merged)
    assert (found.columns, rows_of(found)) == (NAMES, [("A", "600", "300", "4")])


@pytest.mark.parametrize(
    "header",
    ["mark;Size (mm);;count\n;length;height;\n", ";Size (mm);;\nmark;length;height;count\n", "Length (mm);;;\n"],
)
def test_a_header_of_two_rows_is_read_from_text_too(tmp_path: Path, header: str) -> None:
    header = header if "length" in header else f"{header}mark;length;height;count\n"
    found = text(tmp_path, f"Blocks, all\n\n{header}A;600,5;300;4\n")
    assert (found.columns, found.number(found.rows[0], "length_mm")) == (NAMES, "600.5")


def test_a_header_of_two_rows_may_have_more_columns_than_there_must_be(tmp_path: Path) -> None:
    header: Rows = [["mark", "Size (in)", "", "count", "course", "mix"], ["", "length", "height", "", "", ""]]
    found = sheet(tmp_path, [*header, [*ROW, 1, "wall"]], "B1:C1", "A1:A2", "D1:D2", "E1:E2", "F1:F2")
    assert found.columns == ("mark", "length_in", "height_in", "count", "course", "mix")


def test_a_column_two_cells_wide_is_one_column(tmp_path: Path) -> None:
    rows: Rows = [["mark", "", "length_mm", "height_mm", "count"], ["A", "", 600, 300, 4]]
    found = sheet(tmp_path, rows, "A1:B1", "A2:B2")
    assert found.cell(found.rows[0], "mark") == "A"
    assert found.place(BadInput("odd"), found.rows[0], "count").cell == "E2"


def test_a_cell_merged_down_reads_as_its_value_in_each_row(tmp_path: Path) -> None:
    rows: Rows = [[*NAMES, "mix"], [*ROW, "wall"], ["", 450, "", 5, ""], [], ["", 300, "", 6, ""], ["B", 600, 300, 1]]
    found = sheet(tmp_path, rows, "A2:A5", "C2:C5", "E2:E6")
    assert rows_of(found) == [
        ("A", "600", "300", "4", "wall"),
        ("A", "450", "300", "5", "wall"),
        ("A", "300", "300", "6", "wall"),
        ("B", "600", "300", "1", "wall"),
    ]


def test_a_row_that_is_two_rows_high_counts_once(tmp_path: Path) -> None:
    found = sheet(tmp_path, [list(NAMES), ROW, [], ["B", *ROW[1:]]], "A2:A3", "B2:B3", "C2:C3", "D2:D3")
    assert [row[0] for row in rows_of(found)] == ["A", "B"]


@pytest.mark.parametrize(
    ("rows", "merged", "said"),
    [
        (
            [list(NAMES), ROW, ["B", 450, 300, ""]],
            ["D2:D3"],
            ["D2: the cells D2:D3 are merged: is count 4 that of each row, or of all of them together "
             "Unmerge them, and fill each."],
        ),
        (
            [list(NAMES), ROW, ["Total", "", "", 9]],
            ["A3:C3"],
            ["A3: the cells A3:C3 are merged, and Total cannot be mark and length_mm and height_mm at once "
             "Unmerge them, and fill each; if the row is a title or holds totals, take it out."],
        ),
        (
            [list(NAMES), ["A", 600, 300, ""], ["B", 450, 300, 2]],
            ["D1:D2"],
            ["D2: the cells D1:D2 are merged over the header and rows below it Unmerge them, and fill each."],
        ),
        (
            [["", "Size (in)", "", ""], list(NAMES), ROW],
            ["B1:C1"],
            ["B2: length_mm stands under Size (in): two units Take one of the two units out.",
             "C2: height_mm stands under Size (in): two units Take one of the two units out."],
        ),
        (
            [["mark", "Size", "", "count"], ["", "length", "height", ""], ROW],
            ["B1:C1", "A1:A2", "D1:D2"],
            ["B2: column length has no unit Name it length_mm, or write the unit above it, such as (mm).",
             "C2: column height has no unit Name it height_mm, or write the unit above it, such as (mm)."],
        ),
        (
            [["mark", "Size (mm)", "", "height", "count"], ["", "length", "mix", "", ""], ["A", 600, "wall", 300, 4]],
            ["B1:C1"],
            ["D2: column height has no unit Name it height_mm, or write the unit above it, such as (mm)."],
        ),
        ([["mark", "Size (mm)", "", "count"], ROW], ["B1:C1"], ["C1: a column has no name Name it, or take it out."]),
    ],
)  # fmt: skip
def test_what_nobody_can_tell_is_refused_at_its_cell(
    tmp_path: Path, rows: Rows, merged: list[str], said: list[str]
) -> None:
    assert refused(tmp_path, rows, *merged) == said
