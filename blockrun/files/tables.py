"""CSV and XLSX as text, with the place of every cell."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, TypeVar

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.separated import records, separator_of, start_of
from blockrun.files.text import did_you_mean, read_text, split_lines
from blockrun.files.workbook import Merged, cell_name, is_workbook, read_sheet

_MOST_ROWS: Final = 200_000

Value = TypeVar("Value")


@dataclass(frozen=True)
class Row:
    """Cells of one row as text, spaces at their ends taken off, and the number of the row in its file, from 1."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """A header and the rows below it that are not blank.

    Parameters
    ----------
    path : the file.
    header : the row of the column names.
    rows : the rows below, each at least as wide as the header.
    separator : of a CSV file; empty for XLSX.
    lines : the lines of a CSV file, to show; none for XLSX.
    merged : ranges of an XLSX file that show as one cell.
    """

    path: Path
    header: Row
    rows: tuple[Row, ...]
    separator: str = ""
    lines: tuple[str, ...] = field(default=(), repr=False)
    merged: tuple[Merged, ...] = ()

    @property
    def columns(self) -> tuple[str, ...]:
        """Names of the columns, in order."""
        return self.header.cells

    def cell(self, row: Row, column: str) -> str:
        """The text of a cell; empty when the cell or the whole column is."""
        return row.cells[self.columns.index(column)] if column in self.columns else ""

    def number(self, row: Row, column: str) -> str:
        """The text of a cell that holds a number: with a point where a file that separates by ; has a comma."""
        text = self.cell(row, column)
        return text.replace(",", ".", 1) if self.separator == ";" else text

    def read(self, row: Row, column: str, read: Callable[[str], Value], *, as_number: bool = False) -> Value:
        """A cell read by ``read``, whose faults get the place of the cell.

        Raises
        ------
        BadInput : the cell is empty, or ``read`` refuses it.
        """
        text = self.number(row, column) if as_number else self.cell(row, column)
        try:
            if not text:
                raise BadInput("is empty", "Fill the cell, or take the row out.")
            return read(text)
        except BadInput as fault:
            raise self.place(fault, row, column) from None

    def place(self, fault: BadInput, row: Row, column: str | None = None) -> BadInput:
        """The same fault with file, row, column and source line, named after the table's column."""
        index = self.columns.index(column) if column in self.columns else None
        if fault.name is None and column is not None:
            fault.name, fault.what = column, f"{column}: {fault.what}"
        fault.file, fault.line = str(self.path), row.number
        fault.text = self.lines[row.number - 1] if self.lines else None
        if index is not None:
            fault.column = start_of(fault.text, self.separator, index) if fault.text is not None else index + 1
            fault.cell = None if self.separator else cell_name(row.number, index + 1)
        return fault


def read_table(path: Path, columns: Columns | None = None) -> Table:
    """A CSV file (separator ``,``, ``;`` or tab) or the first sheet of an XLSX file.

    Parameters
    ----------
    path : the file.
    columns : what the table must have; without them its first row that is not blank names whatever it has.

    Raises
    ------
    BadInput : it cannot be opened or read, has no header or no rows, lacks a column or has one not known, a row is
        wider than the header, or cells are merged.
    """
    table = _read_xlsx(path, columns) if is_workbook(path) else _read_csv(path, columns)
    if columns and not columns.hinted_at_by(table.columns):
        raise table.place(_no_header(table, columns), table.header)
    faults = list(_merged_faults(table)) or [*_header_faults(table), *_row_faults(table)]
    if columns and not faults:
        faults = list(_column_faults(table, columns))
    if faults:
        raise BadInput.of(faults)
    if not table.rows:
        raise BadInput("has a header and no rows", "Write the rows below the header.", file=path, line=1)
    return table


def _read_csv(path: Path, columns: Columns | None) -> Table:
    lines = split_lines(read_text(path))
    separator = separator_of(lines, columns)
    rows = [Row(number, cells) for number, cells in records(path, lines, separator)]
    header, below = _header_and_rows(path, rows, columns)
    return Table(path, header, below, separator, tuple(lines))


def _read_xlsx(path: Path, columns: Columns | None) -> Table:
    sheet = read_sheet(path)
    rows = [Row(number, cells) for number, cells in enumerate(sheet.rows, start=1)]
    header, below = _header_and_rows(path, rows, columns)
    return Table(path, header, below, merged=sheet.merged)


def _header_and_rows(path: Path, rows: list[Row], columns: Columns | None) -> tuple[Row, tuple[Row, ...]]:
    """Blank rows left out, the row of the names as the header, all rows below as wide as it."""
    filled = [row for row in rows if any(row.cells)]
    if not filled:
        raise BadInput("is empty", "Check that it was saved.", file=path)
    if len(filled) > _MOST_ROWS:
        raise BadInput(f"has more than {_MOST_ROWS} rows", "Split the file.", file=path)
    first = columns.header_of([row.cells for row in filled]) if columns else 0
    header, *below = filled[first:]
    while not header.cells[-1] and not any(any(row.cells[len(header.cells) - 1 :]) for row in below):
        header = Row(header.number, header.cells[:-1])
    return header, tuple(_as_wide(row, len(header.cells)) for row in below)


def _as_wide(row: Row, width: int) -> Row:
    """The row filled up, or cut where only empty cells fall away."""
    spare = row.cells[width:]
    cells = row.cells if any(spare) else row.cells[:width] + ("",) * (width - len(row.cells))
    return Row(row.number, cells)


def _header_faults(table: Table) -> Iterator[BadInput]:
    unnamed = table.columns.count("")
    if unnamed:
        what = "a column has no name" if unnamed == 1 else f"{unnamed} columns have no name"
        yield table.place(BadInput(what, "Name it, or take it out.", name=""), table.header, "")
    for index, column in enumerate(table.columns):
        if column and column in table.columns[:index]:
            fault = BadInput(f"column {column} is there twice", "Take one of them out.", name=column)
            yield table.place(fault, table.header, column)


def _no_header(table: Table, columns: Columns) -> BadInput:
    """What to say of a table whose first row names no column at all."""
    below = next((row.number for row in table.rows if columns.named_by(row.cells)), None)
    what = f"the names of the columns stand in row {below}, below other rows" if below else None
    todo = "Put that row first." if below else f"Start the file with the header {_header(table, columns)}."
    return BadInput(what or "the first row holds values, and the names of the columns are due", todo, name="")


def _column_faults(table: Table, columns: Columns) -> Iterator[BadInput]:
    """Each column that is not known, and those that are missing."""
    needed = columns.chosen(table.columns)
    known = [*needed, *columns.optional]
    for column in table.columns:
        if column not in known:
            fault = BadInput(f"unknown column {column}", did_you_mean(column, known), name=column)
            yield table.place(fault, table.header, column)
    missing = [column for column in needed if column not in table.columns]
    if missing:
        what = f"{'column' if len(missing) == 1 else 'columns'} {', '.join(missing)} missing"
        todo = f"Start the file with the header {_header(table, columns)}."
        yield table.place(BadInput(what, todo, name=missing[0]), table.header)


def _header(table: Table, columns: Columns) -> str:
    return (table.separator or ", ").join([*columns.chosen(table.columns), *columns.optional])


def _merged_faults(table: Table) -> Iterator[BadInput]:
    """Merged cells from the header down: only the first of them holds what all of them show."""
    places = {row.number: row for row in (table.header, *table.rows)}
    for merged in table.merged:
        rows = [places[number] for number in range(merged.first_row, merged.last_row + 1) if number in places]
        if rows and merged.first_column <= len(table.columns):
            fault = BadInput(
                f"the cells {merged} are merged, and only the first of them counts",
                "Unmerge them, and fill each.",
                name="",
            )
            yield table.place(fault, rows[0], table.columns[merged.first_column - 1])


def _row_faults(table: Table) -> Iterator[BadInput]:
    width = len(table.columns)
    for row in table.rows:
        if any(row.cells[width:]):
            fault = BadInput(
                f"has {len(row.cells)} cells, and the header {width}",
                "Put a cell that holds the separator in quotes; write decimals with a point.",
                name="",
            )
            yield table.place(fault, row)
