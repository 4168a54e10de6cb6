"""CSV and XLSX as text, with the place of every cell."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, TypeVar

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Grid, Merged, Row, cell_name
from blockrun.files.header import Header, find_header, with_units_of_cells
from blockrun.files.no_value import no_value
from blockrun.files.separated import records, separator_of, start_of
from blockrun.files.text import did_you_mean, read_text, split_lines
from blockrun.files.workbook import is_workbook, read_sheet

_MOST_ROWS: Final = 200_000

Value = TypeVar("Value")


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
    sheets : names of the sheets of an XLSX file that show, of which the first is read.
    without_value : of an XLSX file, cells by row and column from 1 that show an error, or whose formula has no value.
    short : rows that end before the header does in the file: their last cells are empty, as spreadsheets save them.
    """

    path: Path
    header: Row
    rows: tuple[Row, ...]
    separator: str = ""
    lines: tuple[str, ...] = field(default=(), repr=False)
    merged: tuple[Merged, ...] = ()
    sheets: tuple[str, ...] = ()
    without_value: Mapping[tuple[int, int], str] = field(default_factory=dict, repr=False)
    short: tuple[Row, ...] = ()

    @property
    def columns(self) -> tuple[str, ...]:
        """Names of the columns, in order."""
        return self.header.cells

    def cell(self, row: Row, column: str) -> str:
        """The text of a cell; empty when the cell or the whole column is."""
        return row.cells[self.columns.index(column)] if column in self.columns else ""

    def text(self, row: Row, column: str) -> str:
        """The text of a cell that may be empty.

        Raises
        ------
        BadInput : the cell has no value.
        """
        return self.read(row, column, str) if self.cell(row, column) else ""

    def number(self, row: Row, column: str) -> str:
        """The text of a cell that holds a number: with a point where a file that separates by ; has a comma."""
        text = self.cell(row, column)
        return text.replace(",", ".", 1) if self.separator == ";" else text

    def read(self, row: Row, column: str, read: Callable[[str], Value], *, as_number: bool = False) -> Value:
        """A cell read by ``read``, whose faults get the place of the cell.

        Raises
        ------
        BadInput : the cell is empty or has no value, or ``read`` refuses it.
        """
        text = self.number(row, column) if as_number else self.cell(row, column)
        try:
            if not text:
                raise BadInput("is empty", "Fill the cell, or take the row out.")
            if shown := self._without_value(row, column):
                raise no_value(shown)
            return read(text)
        except BadInput as fault:
            raise self.place(fault, row, column) from None

    def _without_value(self, row: Row, column: str) -> str | None:
        return self.without_value.get((row.number, self.columns.index(column) + 1)) if self.without_value else None

    def place(self, fault: BadInput, row: Row, column: str | int | None = None) -> BadInput:
        """The same fault with file, row, column and source line, named after the table's column.

        Parameters
        ----------
        column : its name, or its index from 0.
        """
        index = self.columns.index(column) if column in self.columns else column if isinstance(column, int) else None
        if fault.name is None and isinstance(column, str):
            fault.name, fault.what = column, f"{column}: {fault.what}"
        fault.file, fault.line = str(self.path), row.number
        fault.text = self.lines[row.number - 1] if self.lines else None
        if index is not None:
            fault.column = start_of(fault.text, self.separator, index) if fault.text is not None else index + 1
            fault.cell = None if self.separator else cell_name(row.number, index + 1)
        return fault


def read_table(path: Path, columns: Columns | None = None, *, may_be_empty: bool = False) -> Table:
    """A CSV file (separator ``,``, ``;`` or tab) or the first sheet of an XLSX file that shows.

    Parameters
    ----------
    path : the file.
    columns : what the table must have; without them its first row that is not blank names whatever it has.
    may_be_empty : a header alone will do.

    Raises
    ------
    BadInput : it cannot be opened or read, has no header or no rows, lacks a column or has one not known, a row is
        wider than the header, or cells are merged so that nobody can tell what is meant.
    """
    table, header = _read_xlsx(path, columns) if is_workbook(path) else _read_csv(path, columns)
    if columns and not columns.hints(table.columns):
        raise table.place(_no_header(table, columns), table.header)
    faults = [*_header_faults(table, header), *_row_faults(table), *_merged_faults(table, columns)]
    if columns and not faults:
        faults = list(_column_faults(table, columns))
    if faults:
        raise BadInput.of(faults)
    if not table.rows and not may_be_empty:
        raise BadInput("has a header and no rows", "Write the rows below the header.", file=path, line=1)
    return table


def _read_csv(path: Path, columns: Columns | None) -> tuple[Table, Header]:
    lines = split_lines(read_text(path))
    separator = separator_of(lines, columns)
    return _table(path, Grid.of(records(path, lines, separator)), columns, separator, tuple(lines))


def _read_xlsx(path: Path, columns: Columns | None) -> tuple[Table, Header]:
    return _table(path, read_sheet(path), columns)


def _table(
    path: Path, grid: Grid, columns: Columns | None, separator: str = "", lines: tuple[str, ...] = ()
) -> tuple[Table, Header]:
    """The table in a grid, all rows below its header as wide as that."""
    if not grid.rows:
        raise BadInput("is empty", "Check that it was saved.", file=path)
    if len(grid.rows) > _MOST_ROWS:
        raise BadInput(f"has more than {_MOST_ROWS} rows", "Split the file.", file=path)
    found = find_header(grid, columns) if columns else Header(grid.rows[0], 1)
    header, below = found.row, grid.rows[found.ends :]
    if columns:
        header = with_units_of_cells(header, below, columns)
    while not header.cells[-1] and not any(any(row.cells[len(header.cells) - 1 :]) for row in below):
        header = Row(header.number, header.cells[:-1])
    width = len(header.cells)
    rows = tuple(_as_wide(row, width) for row in below)
    short = tuple(row for row in below if len(row.cells) < width)
    return Table(path, header, rows, separator, lines, grid.merged, grid.sheets, grid.without_value, short), found


def _as_wide(row: Row, width: int) -> Row:
    """The row filled up, or cut where only empty cells fall away."""
    spare = row.cells[width:]
    cells = row.cells if any(spare) else row.cells[:width] + ("",) * (width - len(row.cells))
    return Row(row.number, cells)


def _header_faults(table: Table, header: Header) -> Iterator[BadInput]:
    unnamed = [index for index, name in enumerate(table.columns) if not name and any(_column(table, index))]
    if unnamed:
        what = "a column has no name" if len(unnamed) == 1 else f"{len(unnamed)} columns have no name"
        yield table.place(BadInput(what, "Name it, or take it out.", name=""), table.header, unnamed[0])
    for index, column in enumerate(table.columns):
        if column and column in table.columns[:index]:
            fault = BadInput(f"column {column} is there twice", "Take one of them out.", name=column)
            yield table.place(fault, table.header, index)
    for index, over in header.clashes:
        what = f"{table.columns[index]} stands under {over}: two units"
        yield table.place(BadInput(what, "Take one of the two units out.", name=""), table.header, index)


def _column(table: Table, index: int) -> Iterator[str]:
    return (row.cells[index] for row in table.rows)


def _no_header(table: Table, columns: Columns) -> BadInput:
    """What to say of a table whose first row names no column at all."""
    below = next((row.number for row in table.rows if columns.named_by(row.cells)), None)
    what = f"the names of the columns stand in row {below}, below other rows" if below else None
    todo = "Put that row first." if below else _header(table, columns)
    return BadInput(what or "the first row holds values, and the names of the columns are due", todo, name="")


def _column_faults(table: Table, columns: Columns) -> Iterator[BadInput]:
    """Each column that is not known, and those that are missing."""
    needed = columns.chosen(table.columns)
    known = [*needed, *columns.optional]
    bare = {name for column in table.columns for name in columns.units_of(column)}
    for index, column in enumerate(table.columns):
        if column and column not in known:
            meant = columns.meant(column)
            todo = f"Did you mean {meant}?" if meant else did_you_mean(column, known)
            way_out = (
                "Else take it out of the file." if todo.endswith("?") else "Rename it, or take it out of the file."
            )
            fault = BadInput(f"unknown column {column}", f"{todo} {way_out}", name=column)
            if units := columns.units_of(column):
                todo = f"Name it {units[0]}, or write the unit above it, such as ({units[0].rpartition('_')[2]})."
                fault = BadInput(f"column {column} has no unit", todo, name=column)
            yield table.place(fault, table.header, index)
    missing = [column for column in needed if column not in table.columns and column not in bare]
    if missing:
        what = f"{'column' if len(missing) == 1 else 'columns'} {', '.join(missing)} missing"
        yield table.place(BadInput(what, _header(table, columns), name=missing[0]), table.header)


def _header(table: Table, columns: Columns) -> str:
    """A header to write, without the columns that may be missing; which sheet is read, where there are several."""
    names = (table.separator or ", ").join(columns.chosen(table.columns))
    first = f" The first sheet is read, {table.sheets[0]}: put yours first." if len(table.sheets) > 1 else ""
    return f"Write the header {names}.{first}"


def _merged_faults(table: Table, columns: Columns | None) -> Iterator[BadInput]:
    """Merged cells of which nobody can tell what they say of each row and column they cover."""
    places = {row.number: row for row in table.rows}
    of_one_row = columns.of_one_row if columns else ()
    for merged in table.merged:
        rows = [places[number] for number in merged.rows_of(places)]
        first = merged.first_column - 1
        names = [name for name in table.columns[first : merged.last_column] if name]
        if rows and names and (doubt := _doubt(table, merged, rows, names, of_one_row)):
            fault = BadInput(f"the cells {merged} are merged{doubt}", "Unmerge them, and fill each.", name="")
            if len(names) > 1:
                fault.todo = "Unmerge them, and fill each; if the row is a title or holds totals, take it out."
            yield table.place(fault, rows[0], first)


def _doubt(table: Table, merged: Merged, rows: list[Row], names: list[str], of_one_row: Sequence[str]) -> str:
    """What cannot be told of merged cells; empty where all is plain."""
    text = rows[0].cells[merged.first_column - 1]
    if merged.first_row <= table.header.number:
        return " over the header and rows below it"
    if len(names) > 1:
        return f", and {text} cannot be {' and '.join(names)} at once"
    if len(rows) > 1 and names[0] in of_one_row:
        return f": is {names[0]} {text} that of each row, or of all of them together"
    return ""


def _row_faults(table: Table) -> Iterator[BadInput]:
    """Rows with more cells than the header; of one that ends before it the last are empty, as spreadsheets save it."""
    width = len(table.columns)
    for row in table.rows:
        if any(row.cells[width:]):
            todo = "Put a cell that holds the separator in quotes; write decimals with a point."
            yield table.place(BadInput(f"has {len(row.cells)} cells, and the header {width}", todo, name=""), row)
