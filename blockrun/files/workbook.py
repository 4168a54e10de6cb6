"""The first sheet of an XLSX file that shows: its cells as text, and which of them are merged."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import Any, Final
from xml.etree.ElementTree import ParseError
from zipfile import BadZipFile

from blockrun.errors import BadInput
from blockrun.files.far_out import check_not_far_out
from blockrun.files.grid import Grid, Merged, Row
from blockrun.files.no_value import cells_without_value
from blockrun.files.text import read_bytes

_DECIMALS: Final = 12
"""Kept of a number: what a sum or a quotient has beyond them, such as 0.1 + 0.2, nobody wrote."""


def is_workbook(path: Path) -> bool:
    """Whether a file is a workbook by its ending or its content."""
    return path.suffix.lower() in (".xlsx", ".xlsm") or read_bytes(path).startswith(b"PK\x03\x04")


def read_sheet(path: Path) -> Grid:
    """The first sheet of a workbook that is not hidden; rows of it that are, by a filter say, are read all the same.

    Raises
    ------
    BadInput : it cannot be opened or read, or something stands too far out in it.
    """
    from python_calamine import CalamineError, CalamineWorkbook, SheetVisibleEnum

    content = read_bytes(path)
    try:
        book = CalamineWorkbook.from_path(path)
        shown = [index for index, one in enumerate(book.sheets_metadata) if one.visible == SheetVisibleEnum.Visible]
        check_not_far_out(path, shown[0])
        without = cells_without_value(path, shown[0])
        sheet = book.get_sheet_by_index(shown[0])
        grid = sheet.to_python(skip_empty_area=False)
        merged = sheet.merged_cell_ranges or ()
    except BadInput:
        raise
    except (CalamineError, BadZipFile, ParseError, OSError, ValueError, LookupError):
        what = "is not a workbook that can be read" if content.startswith(b"PK") else "is not an XLSX file"
        raise BadInput(what, "Save it again as XLSX or as CSV.", file=path) from None
    ranges = (Merged(top + 1, left + 1, bottom + 1, right + 1) for (top, left), (bottom, right) in merged)
    rows = (
        Row(number, tuple(without.get((number, column)) or _cell_text(cell) for column, cell in enumerate(cells, 1)))
        for number, cells in enumerate(grid, 1)
    )
    return Grid.of(rows, tuple(ranges), tuple(book.sheet_names[index] for index in shown), without)


def _cell_text(cell: Any) -> str:
    """A cell as it would stand in a CSV file."""
    if isinstance(cell, bool):
        return str(cell).lower()
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() else repr(round(cell, _DECIMALS))
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    return cell.isoformat() if isinstance(cell, date) else str(cell).strip()
