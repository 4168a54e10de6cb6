"""Writing a workbook: heads that stay, filters, widths that show what is in a column, and text that stays text."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Collection, Iterable
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any, Final

from blockrun.errors import BadInput
from blockrun.show.workbook.front import FRONT, Row, front_of, written
from blockrun.show.workbook.sheets import Column, Kind, Sheet, sheets_of

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

    from blockrun.planner.plan import Plan

FORMATS: Final[dict[Kind, str]] = {
    "text": "@",
    "number": "0",
    "measured": "#,##0.00",
    "little": "#,##0.000",
    "flag": "General",
    "day": "ddd d mmm yyyy",
    "moment": "ddd d mmm yyyy hh:mm",
}
"""How values show; thousands as whoever opens the file has them, and the month in letters."""

IN_US: Final[dict[Kind, str]] = {"day": "ddd mmm d, yyyy", "moment": "ddd mmm d, yyyy hh:mm"}
"""Where a site prints in US units days show as they do on its paper."""

WIDTHS: Final[dict[Kind, int]] = {
    "text": 4,
    "number": 6,
    "measured": 11,
    "little": 11,
    "flag": 7,
    "day": 16,
    "moment": 22,
}
"""The least width of a column, in characters."""

WIDEST: Final = 40
FRONT_WIDTHS: Final = (18, 36, 20, 10)
LINE_PT: Final = 15
"""Height of a line of text, points."""
_LABELLED: Final = 2
"""Cells of a row of the first sheet that is a sentence with its label."""
ARROW: Final = 3
"""Room beside the name of a column, for the button of its filter."""

A_CELL_HOLDS: Final = 32767
EVERYWHERE: Final = "A1:XFD1048576"
LETTER, A4 = 1, 9
"""Numbers that the format has for sizes of paper."""

AT_ANY_TIME: Final = datetime(2020, 1, 1, tzinfo=UTC)
"""When a workbook is said to be of whose plan nobody knows the moment."""


def workbook_of(plan: Plan, made: datetime | None, which: str = "", apart: Collection[int] = ()) -> bytes:
    """Write a plan as a workbook.

    Returns
    -------
    An XLSX file, the same bytes for the same plan.

    Raises
    ------
    BadInput : a name is longer than a cell holds.
    """
    from xlsxwriter import Workbook

    held = io.BytesIO()
    with Workbook(held, {"in_memory": True}) as book:
        book.set_properties({"title": f"{plan.site.name}: {plan.order.name}", "created": _plain(made or AT_ANY_TIME)})
        codes = FORMATS | (IN_US if plan.site.units == "US" else {})
        formats = {kind: book.add_format({"num_format": code}) for kind, code in codes.items()}
        head = book.add_format({"bold": True, "bottom": 1})
        front = book.add_worksheet(FRONT)
        sentence = book.add_format({"num_format": FORMATS["text"], "text_wrap": True, "valign": "top"})
        _write_front(front, front_of(plan, which, apart), formats, head, sentence)
        for sheet in sheets_of(plan, apart):
            page = book.add_worksheet(sheet.name)
            _write_table(page, sheet, formats, head)
            _for_paper(page, plan.site.units, which)
        _for_paper(front, plan.site.units, which)
    return held.getvalue()


def _plain(moment: datetime) -> datetime:
    """A moment as the format has it: of UTC, and not saying so."""
    return moment.astimezone(UTC).replace(tzinfo=None) if moment.tzinfo else moment


def _write_front(
    page: Worksheet, rows: Iterable[Row], formats: dict[Kind, Format], head: Format, sentence: Format
) -> None:
    for column, width in enumerate(FRONT_WIDTHS):
        page.set_column(column, column, width)
    room = sum(FRONT_WIDTHS[1:])
    for row, cells in enumerate(rows):
        for column, value in enumerate(cells):
            shown = head if row == 0 else formats[_kind_of(value)]
            if len(cells) == _LABELLED and column == 1 and isinstance(value, str):
                # a sentence goes over the columns beside it, in as many lines as that takes
                page.merge_range(row, column, row, len(FRONT_WIDTHS) - 1, "", sentence)
                page.set_row(row, LINE_PT * math.ceil(1.1 * len(value) / room))
                shown = sentence
            _writer(page, _kind_of(value))(row, column, value, shown)


def _kind_of(value: object) -> Kind:
    if isinstance(value, str):
        return "text"
    if isinstance(value, date):
        return "day"
    return "measured" if isinstance(value, float) else "number"


def _write_table(page: Worksheet, sheet: Sheet, formats: dict[Kind, Format], head: Format) -> None:
    rows = max(len(column.values) for column in sheet.columns)
    for number, column in enumerate(sheet.columns):
        shown = formats[column.kind]
        page.set_column(number, number, _width(column), shown)
        page.write_string(0, number, column.name, head)
        write = _writer(page, column.kind)
        for row, value in enumerate(column.values, start=1):
            if value is not None and value != "":
                write(row, number, value, shown)
    page.freeze_panes(1, 1)
    page.autofilter(0, 0, rows, len(sheet.columns) - 1)
    page.ignore_errors({"number_stored_as_text": EVERYWHERE})


def _writer(page: Worksheet, kind: Kind) -> Callable[[int, int, Any, Format], object]:
    """What writes a value as what it is: whatever a text begins with, it is no formula and no link."""
    writers: dict[Kind, Callable[[int, int, Any, Format], object]] = {
        "text": lambda row, column, value, shown: page.write_string(row, column, _fitting(value), shown),
        "number": page.write_number,
        "measured": page.write_number,
        "little": page.write_number,
        "flag": page.write_boolean,
        "day": page.write_datetime,
        "moment": page.write_datetime,
    }
    return writers[kind]


def _fitting(text: str) -> str:
    if len(text) > A_CELL_HOLDS:
        what = f"a text of {len(text)} letters is longer than a cell of a workbook holds: {text[:40]}..."
        raise BadInput(what, "Shorten the name.", limit=A_CELL_HOLDS)
    return text


def _width(column: Column) -> int:
    """Wide enough for the name and, up to ``WIDEST``, for every text."""
    longest = max(map(len, column.values), default=0) if column.kind == "text" else 0
    return min(WIDEST, max(WIDTHS[column.kind], len(column.name) + ARROW, longest + 1))


def _for_paper(page: Worksheet, units: str, which: str) -> None:
    """Printed across the page, as wide as it is, with the heads on every one."""
    page.set_landscape()
    page.set_paper(LETTER if units == "US" else A4)
    page.fit_to_pages(1, 0)
    page.repeat_rows(0)
    named = f", {written(which, units)}" if which else ""
    page.set_footer(f"&L&A{named}&RPage &P of &N")
