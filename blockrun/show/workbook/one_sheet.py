"""A workbook of one sheet: rows as they are, for lists that are read again."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Final

Cell = str | int | Decimal

_MADE: Final = datetime(2020, 1, 1)  # noqa: DTZ001  the format knows no zone


def sheet_of(rows: Iterable[Sequence[Cell]]) -> bytes:
    """An XLSX file that holds these rows, numbers as numbers and text as text; the same bytes for the same rows."""
    from xlsxwriter import Workbook

    written = io.BytesIO()
    with Workbook(written, {"in_memory": True}) as book:
        book.set_properties({"created": _MADE})
        page = book.add_worksheet("list")
        for row, cells in enumerate(rows):
            for column, cell in enumerate(cells):
                if not isinstance(cell, str):
                    page.write_number(row, column, float(cell))
                elif cell:
                    page.write_string(row, column, cell)
    return written.getvalue()
