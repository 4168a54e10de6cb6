"""CSV and XLSX as text with places."""

from datetime import date, datetime
from pathlib import Path

import pytest
import xlsxwriter

from blockrun.errors import BadInput
from blockrun.files.tables import Table, read_table


def table(tmp_path: Path, text: str) -> Table:
    file = tmp_path / "a.csv"
    file.write_text(text, encoding="utf-8", newline="")
    return read_table(file)


def refusal(tmp_path: Path, text: str) -> BadInput:
    with pytest.raises(BadInput) as caught:
        table(tmp_path, text)
    return caught.value


def workbook(path: Path, rows: list[list[object]]) -> Path:
    with xlsxwriter.Workbook(path, {"default_date_format": "yyyy-mm-dd"}) as book:
        sheet = book.add_worksheet()
        for number, cells in enumerate(rows):
            for column, cell in enumerate(cells):
                sheet.write(number, column, cell)
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


def test_a_column_that_is_misspelt_and_one_that_is_missing_are_both_said(tmp_path: Path):
    with pytest.raises(BadInput) as caught:
        table(tmp_path, "mark,coarse\nA,1\n").check_columns(["mark", "count"], ["course"])
    assert [fault.what for fault in caught.value.all()] == ["column count missing", "unknown column coarse"]


def test_a_workbook_reads_like_the_same_csv(tmp_path: Path):
    rows: list[list[object]] = [["mark", "count", "length", "needed", "ok"], ["A", 3, 7.5, date(2027, 4, 5), True]]
    found = read_table(workbook(tmp_path / "a.xlsx", rows))
    assert rows_of(found) == [("A", "3", "7.5", "2027-04-05", "true")]


def test_rows_of_a_workbook_keep_the_numbers_the_user_sees(tmp_path: Path):
    found = read_table(workbook(tmp_path / "a.xlsx", [[], ["mark"], [], ["A"]]))
    assert (found.header.number, [row.number for row in found.rows]) == (2, [4])


def test_a_fault_in_a_workbook_names_row_and_column(tmp_path: Path):
    found = read_table(workbook(tmp_path / "a.xlsx", [["mark", "count"], ["A", "x"]]))
    fault = found.place(BadInput("odd"), found.rows[0], "count")
    assert (fault.line, fault.column) == (2, 2)


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


def test_an_empty_workbook_is_refused(tmp_path: Path):
    with pytest.raises(BadInput, match="is empty"):
        read_table(workbook(tmp_path / "a.xlsx", []))
