"""CSV and XLSX as text with places."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

import pytest
import xlsxwriter
from xlsxwriter.utility import xl_cell_to_rowcol

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import cell_name
from blockrun.files.tables import Table, read_table

COLUMNS = Columns((("mark",), ("count",)), ("course",))


def table(tmp_path: Path, text: str, columns: Columns | None = None) -> Table:
    file = tmp_path / "a.csv"
    file.write_text(text, encoding="utf-8", newline="")
    return read_table(file, columns)


def refusal(tmp_path: Path, text: str, columns: Columns | None = None) -> BadInput:
    with pytest.raises(BadInput) as caught:
        table(tmp_path, text, columns)
    return caught.value


def workbook(
    path: Path,
    rows: list[list[object]],
    merged: Sequence[str] = (),
    blank: Sequence[str] = (),
    formatted: Sequence[str] = (),
) -> Path:
    with xlsxwriter.Workbook(path, {"default_date_format": "yyyy-mm-dd"}) as book:
        sheet = book.add_worksheet()
        for number, cells in enumerate(rows):
            for column, cell in enumerate(cells):
                sheet.write(number, column, cell)
        for name in blank:
            sheet.write(name, " ")
        for name in formatted:
            sheet.write_blank(name, None, book.add_format({"bold": True}))
        for cells in merged:
            first, last = (xl_cell_to_rowcol(name) for name in cells.split(":"))
            sheet.merge_range(*first, *last, "")
            sheet.write(
                *first, rows[first[0]][first[1]] if first[0] < len(rows) and first[1] < len(rows[first[0]]) else ""
            )
    return path


def rows_of(found: Table) -> list[tuple[str, ...]]:
    return [row.cells for row in found.rows]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_the_separator_is_told_from_the_header(tmp_path: Path, separator: str, end: str):
    text = end.join([separator.join(["mark", "count"]), separator.join(["A", "3"]), ""])
    found = table(tmp_path, text)
    assert (found.columns, rows_of(found)) == (("mark", "count"), [("A", "3")])


def test_one_column_has_no_separator_to_guess(tmp_path: Path):
    assert table(tmp_path, "one\no\n").columns == ("one",)


def test_every_cell_stays_text(tmp_path: Path):
    assert rows_of(table(tmp_path, "a,b,c,d\n007,NA,1e3,true\n")) == [("007", "NA", "1e3", "true")]


def test_blank_rows_are_left_out_and_the_others_keep_their_numbers(tmp_path: Path):
    found = table(tmp_path, "a,b\n\n1,2\n,\n3,4\n")
    assert [row.number for row in found.rows] == [3, 5]


def test_short_rows_are_filled_up_and_empty_columns_at_the_end_dropped(tmp_path: Path):
    found = table(tmp_path, "a,b,\n1,,\n2\n")
    assert (found.columns, rows_of(found)) == (("a", "b"), [("1", ""), ("2", "")])


def test_a_comma_is_a_decimal_point_where_semicolons_separate(tmp_path: Path):
    found = table(tmp_path, "mark;length\nA;7,5\nB;7.5\n")
    assert [found.number(row, "length") for row in found.rows] == ["7.5", "7.5"]


@pytest.mark.parametrize(
    ("text", "said", "line"),
    [
        ("a,b\n1,2,3\n", "has 3 cells, and the header 2", 2),
        ("a,a\n1,2\n", "column a is there twice", 1),
        ("a,,c\n1,2,3\n", "a column has no name", 1),
        ("a,b\n", "has a header and no rows", 1),
        ('a,b\n"1,2\n3,4\n', "cannot be read: unexpected end of data", 2),
        ('a,b\n1,"2\n3",4\n', "cannot be read: a cell runs over the end of its line", 2),
        ('a,b\n1,"2" x\n', "cannot be read: ',' expected", 2),
        (",\n,\n", "is empty", None),
    ],
)
def test_a_table_that_is_not_one_is_refused(tmp_path: Path, text: str, said: str, line: int | None):
    error = refusal(tmp_path, text)
    assert (said in error.what, error.line) == (True, line)


def test_a_fault_is_placed_at_its_cell_quoted_separators_or_not(tmp_path: Path):
    found = table(tmp_path, 'mark,count\n"A, long",x\n')
    fault = found.place(BadInput("odd"), found.rows[0], "count")
    assert (fault.what, fault.line, fault.column) == ("count: odd", 2, 11)


def test_a_cell_that_a_short_row_lacks_is_placed_at_the_end_of_the_row(tmp_path: Path):
    found = table(tmp_path, "mark,count\nAB\n")
    assert found.place(BadInput("odd"), found.rows[0], "count").column == 3


def test_a_column_that_is_misspelt_and_one_that_is_missing_are_both_said(tmp_path: Path):
    error = refusal(tmp_path, "mark,coarse\nA,1\n", COLUMNS)
    assert [fault.what for fault in error.all()] == ["column count missing", "unknown column coarse"]


def test_a_column_like_no_other_may_be_renamed_or_taken_out(tmp_path: Path):
    error = refusal(tmp_path, "mark,count,supplier\nA,1,x\n", COLUMNS)
    assert error.todo == "Known here: count, course, mark. Rename it, or take it out of the file."


def test_a_title_and_notes_above_the_names_of_the_columns_are_passed_over(tmp_path: Path):
    found = table(tmp_path, "Blocks, all of them\n\nfor the store\nmark;count\nA;3\n", COLUMNS)
    assert (found.columns, found.header.number, rows_of(found)) == (("mark", "count"), 4, [("A", "3")])


def test_misspelt_names_below_a_title_are_told_at_their_row(tmp_path: Path):
    error = refusal(tmp_path, "Blocks\nmark;amount\nA;3\n", COLUMNS)
    assert [(fault.what, fault.line) for fault in error.all()] == [
        ("column count missing", 2),
        ("unknown column amount", 2),
    ]


def test_a_row_of_values_above_the_names_is_never_passed_over(tmp_path: Path):
    error = refusal(tmp_path, "A,3\nmark,count\nB,4\n", COLUMNS)
    assert (error.what, error.todo) == (
        "the names of the columns stand in row 2, below other rows",
        "Put that row first.",
    )


def test_a_file_without_names_of_columns_is_told_in_one_sentence(tmp_path: Path):
    error = refusal(tmp_path, "A,3,,\nB,4,,1\n", COLUMNS)
    assert [fault.what for fault in error.all()] == ["the first row holds values, and the names of the columns are due"]
    assert (error.line, error.todo) == (1, "Write the header mark,count.")


def test_columns_without_a_name_are_told_once(tmp_path: Path):
    assert [fault.what for fault in refusal(tmp_path, "a,,,d\n1,2,3,4\n").all()] == ["2 columns have no name"]


def test_a_title_in_a_workbook_is_passed_over_merged_or_not(tmp_path: Path):
    path = workbook(tmp_path / "a.xlsx", [["Blocks"], ["mark", "count"], ["A", 3]], ["A1:B1"])
    found = read_table(path, COLUMNS)
    assert (found.header.number, rows_of(found)) == (2, [("A", "3")])


def test_merged_cells_beside_and_below_the_table_do_not_matter(tmp_path: Path):
    path = workbook(tmp_path / "a.xlsx", [["mark", "count"], ["A", 3]], ["D1:D2", "A5:B6"])
    assert rows_of(read_table(path, COLUMNS)) == [("A", "3")]


@pytest.mark.parametrize(("row", "column", "name"), [(2, 1, "A2"), (7, 26, "Z7"), (1, 27, "AA1"), (9, 703, "AAA9")])
def test_a_cell_is_called_as_a_workbook_calls_it(row: int, column: int, name: str):
    assert cell_name(row, column) == name


def test_a_workbook_reads_like_the_same_csv(tmp_path: Path):
    rows: list[list[object]] = [["mark", "count", "length", "needed", "ok"], ["A", 3, 7.5, date(2027, 4, 5), True]]
    found = read_table(workbook(tmp_path / "a.xlsx", rows))
    assert rows_of(found) == [("A", "3", "7.5", "2027-04-05", "true")]


def test_what_a_workbook_worked_out_has_no_more_decimals_than_can_be_meant(tmp_path: Path):
    found = read_table(workbook(tmp_path / "a.xlsx", [["length"], [1 / 12], [0.1 + 0.2]]))
    assert rows_of(found) == [("0.083333333333",), ("0.3",)]


def test_rows_of_a_workbook_keep_the_numbers_the_user_sees(tmp_path: Path):
    found = read_table(workbook(tmp_path / "a.xlsx", [[], ["mark"], [], ["A"]]))
    assert (found.header.number, [row.number for row in found.rows]) == (2, [4])


def test_a_fault_in_a_workbook_names_row_and_column(tmp_path: Path):
    found = read_table(workbook(tmp_path / "a.xlsx", [["mark", "count"], ["A", "x"]]))
    fault = found.place(BadInput("odd"), found.rows[0], "count")
    assert (fault.line, fault.column, fault.cell) == (2, 2, "B2")
    assert str(fault) == f"{tmp_path / 'a.xlsx'}:B2: count: odd"


def test_a_time_of_day_in_a_date_cell_is_kept_so_that_it_is_refused(tmp_path: Path):
    found = read_table(workbook(tmp_path / "a.xlsx", [["needed"], [datetime(2027, 4, 5, 6, 30)]]))  # noqa: DTZ001
    assert rows_of(found) == [("2027-04-05 06:30:00",)]


def test_a_workbook_without_its_ending_is_known_by_its_content(tmp_path: Path):
    path = workbook(tmp_path / "a.xlsx", [["mark"], ["A"]]).rename(tmp_path / "a.csv")
    assert read_table(path).columns == ("mark",)


@pytest.mark.parametrize(
    ("content", "said"), [(b"mark,count\n", "is not an XLSX file"), (b"PK\x03\x04rest", "is not a workbook")]
)
def test_a_broken_workbook_is_refused(tmp_path: Path, content: bytes, said: str):
    file = tmp_path / "a.xlsx"
    file.write_bytes(content)
    with pytest.raises(BadInput, match=said):
        read_table(file)


@pytest.mark.parametrize("cell", ["XFD1048576", "CW1048576", "A1048576", "XFD2000"])
@pytest.mark.parametrize("above", ["", "XFD1"])
def test_a_cell_far_out_is_told_before_there_is_room_made_for_all_up_to_it(tmp_path: Path, cell: str, above: str):
    rows: list[list[object]] = [["mark", "count", "a", "b"], ["A", 3, 1, 2]]
    path = workbook(tmp_path / "a.xlsx", rows, blank=[cell, *filter(None, [above])])
    with pytest.raises(BadInput) as caught:
        read_table(path)
    assert str(caught.value).startswith(f"{path}:{cell}: something, if only a blank, stands so far out")
    assert "Clear the cell" in str(caught.value)


def test_a_format_without_a_value_may_reach_as_far_as_it_likes(tmp_path: Path):
    path = workbook(tmp_path / "a.xlsx", [["mark"], ["A"]], formatted=["XFD1048576"])
    assert rows_of(read_table(path)) == [("A",)]


def test_of_a_workbook_the_first_sheet_that_shows_is_read(tmp_path: Path):
    with xlsxwriter.Workbook(tmp_path / "a.xlsx") as book:
        old, kept, new, last = (book.add_worksheet(name) for name in ("old", "kept", "new", "last"))
        old.hide()
        kept.very_hidden()
        new.activate()
        for sheet in (old, kept, new, last):
            sheet.write_column("A1", ["mark", sheet.name])
        old.write("XFD1048576", " ")
    found = read_table(tmp_path / "a.xlsx")
    assert (rows_of(found), found.sheets) == ([("new",)], ("new", "last"))


def test_an_empty_workbook_is_refused(tmp_path: Path):
    with pytest.raises(BadInput, match="is empty"):
        read_table(workbook(tmp_path / "a.xlsx", []))


def test_the_last_cells_of_a_row_that_ends_before_them_are_empty(tmp_path: Path):
    (tmp_path / "a.csv").write_text("mark,count,course\nA,3\n", encoding="utf-8")
    assert rows_of(read_table(tmp_path / "a.csv", COLUMNS)) == [("A", "3", "")]
