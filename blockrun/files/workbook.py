"""The first sheet of an XLSX file: its cells as text, and which of them are merged."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import Any, Final

from blockrun.errors import BadInput
from blockrun.files.grid import Grid, Merged, Row
from blockrun.files.text import read_bytes

_DECIMALS: Final = 12
"""Kept of a number: what a sum or a quotient has beyond them, such as 0.1 + 0.2, nobody wrote."""


def is_workbook(path: Path) -> bool:
    """Whether a file is a workbook by its ending or its content."""
    return path.suffix.lower() in (".xlsx", ".xlsm") or read_bytes(path).startswith(b"PK\x03\x04")


def read_sheet(path: Path) -> Grid:
    """The first sheet of a workbook.

    Raises
    ------
    BadInput : it cannot be opened or read.
    """
    from python_calamine import CalamineError, CalamineWorkbook

    content = read_bytes(path)
    try:
        book = CalamineWorkbook.from_path(path)
        sheet = book.get_sheet_by_index(0)
        grid = sheet.to_python(skip_empty_area=False)
        merged = sheet.merged_cell_ranges or ()
    except (CalamineError, OSError, ValueError, IndexError):
        what = "is not a workbook that can be read" if content.startswith(b"PK") else "is not an XLSX file"
        raise BadInput(what, "Save it again as XLSX or as CSV.", file=path) from None
    ranges = (Merged(top + 1, left + 1, bottom + 1, right + 1) for (top, left), (bottom, right) in merged)
    rows = (Row(number, tuple(map(_cell_text, cells))) for number, cells in enumerate(grid, 1))
    return Grid.of(rows, tuple(ranges), tuple(book.sheet_names))


def _cell_text(cell: Any) -> str:
    """A cell as it would stand in a CSV file."""
    if isinstance(cell, bool):
        return str(cell).lower()
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() else repr(round(cell, _DECIMALS))
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, date) else str(cell).strip()
