"""CSV and XLSX as text, with the place of every cell."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time
from pathlib import Path
from typing import Any, Final, TypeVar

from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean, read_bytes, read_text, split_lines

_SEPARATORS: Final = (",", ";", "\t")
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
    """

    path: Path
    header: Row
    rows: tuple[Row, ...]
    separator: str = ""
    lines: tuple[str, ...] = field(default=(), repr=False)

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
            fault.column = _start_of(fault.text, self.separator, index) if fault.text is not None else index + 1
        return fault

    def check_columns(self, needed: Iterable[str], optional: Iterable[str] = ()) -> None:
        """Refuse a header that lacks a column or has one not known.

        Raises
        ------
        BadInput : with a fault for each.
        """
        needed, optional = list(needed), list(optional)
        known = [*needed, *optional]
        unknown = [column for column in self.columns if column not in known]
        faults = [
            self.place(
                BadInput(f"unknown column {column}", did_you_mean(column, known), name=column), self.header, column
            )
            for column in unknown
        ]
        missing = [column for column in needed if column not in self.columns]
        if missing:
            what = f"{'column' if len(missing) == 1 else 'columns'} {', '.join(missing)} missing"
            fault = BadInput(what, f"Start the file with the header {','.join(known)}.", name=missing[0])
            faults.append(self.place(fault, self.header))
        if faults:
            raise BadInput.of(faults)


def read_table(path: Path) -> Table:
    """A CSV file (separator ``,``, ``;`` or tab, told from its header) or the first sheet of an XLSX file.

    Raises
    ------
    BadInput : it cannot be opened or read, has no header or no rows, or a row is wider than the header.
    """
    table = _read_xlsx(path) if _is_xlsx(path) else _read_csv(path)
    faults = [*_header_faults(table), *_row_faults(table)]
    if faults:
        raise BadInput.of(faults)
    if not table.rows:
        raise BadInput("has a header and no rows", "Write the rows below the header.", file=path, line=1)
    return table


def _is_xlsx(path: Path) -> bool:
    return path.suffix.lower() in (".xlsx", ".xlsm") or read_bytes(path).startswith(b"PK\x03\x04")


def _read_csv(path: Path) -> Table:
    lines = split_lines(read_text(path))
    header = next(line for line in lines if line.strip())
    separator = max(_SEPARATORS, key=header.count)
    rows = list(_records(path, lines, separator))
    return _table(path, rows, separator, tuple(lines))


def _records(path: Path, lines: list[str], separator: str) -> Iterator[Row]:
    reader = csv.reader(lines, delimiter=separator, strict=True)
    number = 0
    try:
        for cells in reader:
            if reader.line_num > number + 1:
                raise csv.Error("a cell runs over the end of its line")
            number = reader.line_num
            yield Row(number, tuple(cell.strip() for cell in cells))
    except csv.Error as error:
        number += 1
        raise BadInput(
            f"cannot be read: {error}",
            'Check the quotes (") of this row.',
            file=path,
            line=number,
            text=lines[number - 1] if number <= len(lines) else None,
        ) from None


def _read_xlsx(path: Path) -> Table:
    from python_calamine import CalamineError, CalamineWorkbook

    content = read_bytes(path)
    try:
        workbook = CalamineWorkbook.from_path(path)
        grid = workbook.get_sheet_by_index(0).to_python(skip_empty_area=False)
    except (CalamineError, OSError, ValueError, IndexError):
        what = "is not a workbook that can be read" if content.startswith(b"PK") else "is not an XLSX file"
        raise BadInput(what, "Save it again as XLSX or as CSV.", file=path) from None
    rows = [Row(number, tuple(_cell_text(cell) for cell in cells)) for number, cells in enumerate(grid, start=1)]
    return _table(path, rows)


def _cell_text(cell: Any) -> str:
    """A cell of a workbook as it would stand in a CSV file."""
    if isinstance(cell, bool):
        return str(cell).lower()
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() else repr(cell)
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, date) else str(cell).strip()


def _table(path: Path, rows: list[Row], separator: str = "", lines: tuple[str, ...] = ()) -> Table:
    """Blank rows left out, the first other one as the header, all rows as wide as it."""
    filled = [row for row in rows if any(row.cells)]
    if not filled:
        raise BadInput("is empty", "Check that it was saved.", file=path)
    if len(filled) > _MOST_ROWS:
        raise BadInput(f"has more than {_MOST_ROWS} rows", "Split the file.", file=path)
    header, *below = filled
    while not header.cells[-1] and not any(any(row.cells[len(header.cells) - 1 :]) for row in below):
        header = Row(header.number, header.cells[:-1])
    width = len(header.cells)
    return Table(path, header, tuple(_as_wide(row, width) for row in below), separator, lines)


def _as_wide(row: Row, width: int) -> Row:
    """The row filled up, or cut where only empty cells fall away."""
    spare = row.cells[width:]
    cells = row.cells if any(spare) else row.cells[:width] + ("",) * (width - len(row.cells))
    return Row(row.number, cells)


def _header_faults(table: Table) -> Iterator[BadInput]:
    for index, column in enumerate(table.columns):
        if not column:
            fault = BadInput("a column has no name", "Name it, or take it out.", name="")
        elif column in table.columns[:index]:
            fault = BadInput(f"column {column} is there twice", "Take one of them out.", name=column)
        else:
            continue
        yield table.place(fault, table.header, column)


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


def _start_of(line: str, separator: str, index: int) -> int:
    """Where in a line the cell of this index starts, from 1; separators within quotes do not count."""
    quoted, seen = False, 0
    for position, char in enumerate(line):
        if char == '"':
            quoted = not quoted
        elif char == separator and not quoted:
            seen += 1
            if seen == index:
                return position + 2
    return 1
