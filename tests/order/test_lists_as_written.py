"""Block lists as people write them for themselves: totals, remarks, units in odd places, columns by other names."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import xlsxwriter

from blockrun.errors import BadInput
from blockrun.files.text import References
from blockrun.order.lists import ListRow, read_block_list
from tests.files.test_files_tables import workbook

HEADER: list[object] = ["mark", "length_mm", "height_mm", "thickness_mm", "count"]
ROW: list[object] = ["A", 600, 300, 200, 60]


def rows_of(folder: Path, *rows: list[object]) -> list[ListRow]:
    workbook(folder / "a.xlsx", list(rows))
    return list(read_block_list("a.xlsx", References(folder, {}, {})).rows)


def faults_of(folder: Path, *rows: list[object]) -> list[tuple[str, str]]:
    with pytest.raises(BadInput) as caught:
        rows_of(folder, *rows)
    return [(fault.what, fault.todo) for fault in caught.value.all()]


@pytest.mark.parametrize(
    ("last", "said"),
    [
        (["Total", "", "", "", 60], "mark: Total looks like the name of a row of totals"),
        (["", "", "", "", 60], "mark, length_mm, height_mm and thickness_mm are empty"),
        (["Cast by Joe, ask for more"], "length_mm, height_mm, thickness_mm and count are empty"),
    ],
)
def test_a_row_of_totals_or_a_remark_is_one_complaint(tmp_path: Path, last: list[object], said: str) -> None:
    ((what, todo),) = faults_of(tmp_path, HEADER, ROW, last)
    assert what == said
    assert re.search("[Tt]ake .*out", todo)


def test_rows_that_end_before_their_last_cells_are_read_and_what_they_lack_is_told_with_all_else(
    tmp_path: Path,
) -> None:
    header = "mark,length_mm,height_mm,thickness_mm,count,course,needed"
    (tmp_path / "a.csv").write_text(f"{header}\nA,600,300,200,60\nB,600,300,200\nC,600,300,200,x\n", encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        read_block_list("a.csv", References(tmp_path, {}, {}))
    assert [(fault.what, fault.line) for fault in caught.value.all()] == [
        ("count: is empty", 3), ("count: x is not a whole number", 4)
    ]  # fmt: skip


@pytest.mark.parametrize("name", ["Qty", "Number", "pcs", "Pieces", "No.", "Quantity"])
def test_a_count_by_another_name_is_asked_back(tmp_path: Path, name: str) -> None:
    faults = faults_of(tmp_path, [*HEADER[:-1], name], ROW)
    assert (f"unknown column {name}", "Did you mean count? Else take it out of the file.") in faults


def test_a_missing_column_is_answered_with_no_more_than_must_be_there(tmp_path: Path) -> None:
    ((_, todo),) = faults_of(tmp_path, HEADER[:-1], ROW[:-1])
    assert todo == "Write the header mark, length_mm, height_mm, thickness_mm, count."


def test_of_several_sheets_the_one_that_was_read_is_named(tmp_path: Path) -> None:
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        book.add_worksheet("Notes").write(0, 0, "hello")
        book.add_worksheet("Blocks").write_row(0, 0, HEADER)
    with pytest.raises(BadInput) as caught:
        read_block_list("a.xlsx", References(tmp_path, {}, {}))
    assert caught.value.todo.endswith("The first sheet is read, Notes: put yours first.")


@pytest.mark.parametrize(
    ("header", "row"),
    [
        (HEADER, ["A", "600 mm", "300mm", "200 mm", 60]),
        (["Mark", "Length", "Height", "Thickness", "Count"], ["A", "600 mm", "300 mm", "20 cm", 60]),
        (["mark", "length_in", "height_mm", "thickness_mm", "count"], ["A", "23 5/8 in", 300, 200, 60]),
    ],
)
def test_a_unit_behind_a_number_is_read(tmp_path: Path, header: list[object], row: list[object]) -> None:
    (found,) = rows_of(tmp_path, header, row)
    assert found.size_mm == pytest.approx((600, 300, 200), abs=0.1)


def test_a_column_of_two_units_that_its_header_leaves_out_is_refused(tmp_path: Path) -> None:
    header: list[object] = ["mark", "length", "height_mm", "thickness_mm", "count"]
    faults = faults_of(tmp_path, header, ["A", "600 mm", 300, 200, 60], ["B", "45 cm", 300, 200, 6])
    assert faults[0][0] == "column length has no unit"


def test_a_row_of_units_under_the_header_is_read(tmp_path: Path) -> None:
    names: list[object] = ["Mark", "Length", "Height", "Thickness", "Count"]
    assert rows_of(tmp_path, names, ["", "mm", "mm", "mm", "pcs"], ROW) == rows_of(tmp_path, HEADER, ROW)


@pytest.mark.parametrize("written", ["1.500", "1,500"])
def test_a_length_that_may_be_a_thousand_is_refused(tmp_path: Path, written: str) -> None:
    (tmp_path / "a.csv").write_text(f"mark;length_mm;height_mm;thickness_mm;count\nA;{written};200;200;24\n")
    with pytest.raises(BadInput) as caught:
        read_block_list("a.csv", References(tmp_path, {}, {}))
    assert caught.value.what == "length_mm: 1.500 may be a thousand or a part of one"
    assert (caught.value.todo, caught.value.line) == ("Write 1500.", 2)


def test_a_text_cell_of_a_workbook_that_may_be_a_thousand_is_refused_with_its_cell(tmp_path: Path) -> None:
    workbook(tmp_path / "a.xlsx", [HEADER, ["A", "1.500", 300, 200, 60]])
    with pytest.raises(BadInput) as caught:
        read_block_list("a.xlsx", References(tmp_path, {}, {}))
    assert (caught.value.cell, caught.value.todo) == ("B2", "Write 1500.")


def test_three_decimals_that_cannot_be_thousands_are_read(tmp_path: Path) -> None:
    header: list[object] = ["mark", "length_in", "height_mm", "thickness_m", "count"]
    (found,) = rows_of(tmp_path, header, ["A", "15.625", "300.000", "0.200", 60])
    assert found.size_mm == pytest.approx((396.875, 300, 200))


@pytest.mark.parametrize(
    ("unit", "side", "range_said"),
    [("mm", 19, "20 mm to 10000 mm"), ("cm", 1.5, "2 cm to 1000 cm"), ("in", 0.75, "0.787 in to 393.7 in")],
)
def test_a_block_thinner_than_the_thinnest_is_refused(tmp_path: Path, unit: str, side: float, range_said: str) -> None:
    header: list[object] = ["mark", "length_mm", "height_mm", f"thickness_{unit}", "count"]
    todo = f"Write a length from {range_said}. The least is our choice: thinner ones break in the hand."
    assert faults_of(tmp_path, header, ["A", 600, 300, side, 60]) == [
        (f"thickness_{unit}: {side} is no side of a block", todo)
    ]


def test_a_count_with_a_decimal_comma_is_read_as_a_length_is(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text("mark;length_mm;height_mm;thickness_mm;count\nA;400,0;200;200;24,0\n")
    (row,) = read_block_list("a.csv", References(tmp_path, {}, {})).rows
    assert (row.length_mm, row.count) == (400, 24)


def test_a_count_that_may_be_thousands_is_refused(tmp_path: Path) -> None:
    assert faults_of(tmp_path, HEADER, ["A", 600, 300, 200, "2.000"]) == [
        ("count: 2.000 may be a thousand or a part of one", "Write 2000 or 2.")
    ]


def formulas(folder: Path, cell: str, formula: str, stored: str) -> None:
    with xlsxwriter.Workbook(folder / "a.xlsx") as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, [*HEADER, "course", "needed", "volume_l"])
        sheet.write_row(1, 0, [*ROW, 1, "2027-05-10", 36])
        sheet.write_formula(cell, formula, None, stored)


@pytest.mark.parametrize(
    ("cell", "column", "formula", "error"),
    [("G2", "needed", "=1/0", "#DIV/0!"), ("F2", "course", "=NA()", "#N/A"), ("A2", "mark", "=Q9Z", "#NAME?")],
)
def test_a_cell_that_shows_an_error_is_refused(
    tmp_path: Path, cell: str, column: str, formula: str, error: str
) -> None:
    formulas(tmp_path, cell, formula, error)
    with pytest.raises(BadInput) as caught:
        read_block_list("a.xlsx", References(tmp_path, {}, {}))
    (fault,) = caught.value.all()
    assert (fault.what, fault.cell) == (f"{column}: shows the error {error}", cell)


def test_a_formula_without_its_value_is_refused(tmp_path: Path) -> None:
    formulas(tmp_path, "G2", "=DATE(2027,5,17)", "")
    with pytest.raises(BadInput) as caught:
        read_block_list("a.xlsx", References(tmp_path, {}, {}))
    assert caught.value.what == "needed: its formula =DATE(2027,5,17) has no value stored with it"
    assert (caught.value.cell, caught.value.todo) == (
        "G2",
        "Open the file in the spreadsheet program and save it once, or write the value.",
    )


def test_an_error_in_a_column_that_is_not_read_is_let_be(tmp_path: Path) -> None:
    formulas(tmp_path, "H2", "=1/0", "#DIV/0!")
    (row,) = read_block_list("a.xlsx", References(tmp_path, {}, {})).rows
    assert row.count == 60


def test_an_error_merged_down_is_refused_in_each_row(tmp_path: Path) -> None:
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, [*HEADER, "needed"])
        for row in (1, 2):
            sheet.write_row(row, 0, ROW)
        sheet.merge_range("F2:F3", "")
        sheet.write_formula("F2", "=1/0", None, "#DIV/0!")
    with pytest.raises(BadInput) as caught:
        read_block_list("a.xlsx", References(tmp_path, {}, {}))
    assert [fault.cell for fault in caught.value.all()] == ["F2", "F3"]


def test_a_day_with_points_is_the_day_first(tmp_path: Path) -> None:
    (row,) = rows_of(tmp_path, [*HEADER, "needed"], [*ROW, "07.05.2027"])
    assert str(row.needed) == "2027-05-07"
