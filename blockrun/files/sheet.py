"""A workbook of one sheet, written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from io import BytesIO
from typing import Final
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from blockrun.files.grid import cell_name

Cell = str | int | Decimal

_FORMATS: Final = "http://schemas.openxmlformats.org"
_LINKED: Final = f"{_FORMATS}/officeDocument/2006/relationships"
_MAIN: Final = f'xmlns="{_FORMATS}/spreadsheetml/2006/main"'
_TYPE: Final = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_LINKS: Final = (
    f'<Relationships xmlns="{_FORMATS}/package/2006/relationships">'
    f'<Relationship Id="r1" Type="{_LINKED}/{{0}}" Target="{{1}}"/></Relationships>'
)
_ROUND_IT: Final = {
    "[Content_Types].xml": f'<Types xmlns="{_FORMATS}/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    f'<Override PartName="/xl/workbook.xml" ContentType="{_TYPE}.sheet.main+xml"/>'
    f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{_TYPE}.worksheet+xml"/></Types>',
    "_rels/.rels": _LINKS.format("officeDocument", "xl/workbook.xml"),
    "xl/workbook.xml": f'<workbook {_MAIN} xmlns:r="{_LINKED}">'
    '<sheets><sheet name="list" sheetId="1" r:id="r1"/></sheets></workbook>',
    "xl/_rels/workbook.xml.rels": _LINKS.format("worksheet", "worksheets/sheet1.xml"),
}
"""What stands round a sheet for programs to find it."""


def sheet_of(rows: Iterable[Sequence[Cell]]) -> bytes:
    """An XLSX file that holds these rows, numbers as numbers; the same bytes for the same rows.

    Source
    ------
    ECMA-376: part 1, what a workbook of one sheet must hold; part 2, how it is packed.
    """
    body = "".join(_row(number, cells) for number, cells in enumerate(rows, 1))
    files = {**_ROUND_IT, "xl/worksheets/sheet1.xml": f"<worksheet {_MAIN}><sheetData>{body}</sheetData></worksheet>"}
    packed = BytesIO()
    with ZipFile(packed, "w") as package:
        for name, text in files.items():
            package.writestr(ZipInfo(name), f'<?xml version="1.0" encoding="UTF-8"?>{text}', ZIP_DEFLATED)
    return packed.getvalue()


def _row(number: int, cells: Sequence[Cell]) -> str:
    named = ((cell_name(number, column), cell) for column, cell in enumerate(cells, 1) if cell != "")
    return f'<row r="{number}">{"".join(_cell(name, cell) for name, cell in named)}</row>'


def _cell(name: str, cell: Cell) -> str:
    if isinstance(cell, str):
        return f'<c r="{name}" t="inlineStr"><is><t>{escape(cell)}</t></is></c>'
    return f'<c r="{name}"><v>{cell}</v></c>'
