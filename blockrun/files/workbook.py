"""The first sheet of an XLSX file: its cells as text, their names, and which of them are merged."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

from blockrun.errors import BadInput
from blockrun.files.text import read_bytes


@dataclass(frozen=True)
class Merged:
    """Cells that show as one; rows and columns count from 1, both ends belong to it."""

    first_row: int
    first_column: int
    last_row: int
    last_column: int

    def __str__(self) -> str:
        """The range as a workbook shows it, such as ``A2:A3``."""
        return f"{cell_name(self.first_row, self.first_column)}:{cell_name(self.last_row, self.last_column)}"


@dataclass(frozen=True)
class Sheet:
    """Rows of cells from the first of the sheet on, and its merged ranges."""

    rows: tuple[tuple[str, ...], ...]
    merged: tuple[Merged, ...] = ()


def is_workbook(path: Path) -> bool:
    """Whether a file is a workbook by its ending or its content."""
    return path.suffix.lower() in (".xlsx", ".xlsm") or read_bytes(path).startswith(b"PK\x03\x04")


def read_sheet(path: Path) -> Sheet:
    """The first sheet of a workbook.

    Raises
    ------
    BadInput : it cannot be opened or read.
    """
    from python_calamine import CalamineError, CalamineWorkbook

    content = read_bytes(path)
    try:
        sheet = CalamineWorkbook.from_path(path).get_sheet_by_index(0)
        grid = sheet.to_python(skip_empty_area=False)
        merged = sheet.merged_cell_ranges or ()
    except (CalamineError, OSError, ValueError, IndexError):
        what = "is not a workbook that can be read" if content.startswith(b"PK") else "is not an XLSX file"
        raise BadInput(what, "Save it again as XLSX or as CSV.", file=path) from None
    ranges = (Merged(top + 1, left + 1, bottom + 1, right + 1) for (top, left), (bottom, right) in merged)
    return Sheet(tuple(tuple(map(_cell_text, cells)) for cells in grid), tuple(ranges))


def cell_name(row: int, column: int) -> str:
    """What a workbook calls the cell in a row and a column, both from 1: ``C7``."""
    letters = ""
    while column > 0:
        column, letter = divmod(column - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{row}"


def _cell_text(cell: Any) -> str:
    """A cell as it would stand in a CSV file."""
    if isinstance(cell, bool):
        return str(cell).lower()
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() else repr(cell)
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, date) else str(cell).strip()
