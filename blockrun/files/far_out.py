"""Cells so far out in a workbook that its reader would need more memory than there is.

The reader makes room for every cell from the first to the last one, and a blank typed by mistake into the last cell of
a sheet asks for hundreds of gigabytes. So where cells stand is looked up before, in the text of the sheet.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from xml.etree import ElementTree
from zipfile import ZipFile

from blockrun.errors import BadInput
from blockrun.files.grid import cell_name

_MOST_CELLS: Final = 4_000_000
"""Of a sheet, from its first cell to the corner of its last row and column: some 400 MB."""

_LARGEST: Final = 400_000_000
"""Bytes of a sheet, unpacked."""

_CHUNK: Final = 1 << 20
_ROW_OR_CELL: Final = re.compile(rb"<(?:\w+:)?(row|c)(?:\s([^>]*))?>(</)?")
_NAME: Final = re.compile(rb"([A-Z]+)(\d+)")
_PLACE: Final = re.compile(rb"(?:^|\s)r\s*=\s*[\"']([A-Z]*)(\d+)[\"']")


def check_not_far_out(path: Path, sheet: int) -> None:
    """Refuse a sheet that reaches too far.

    Parameters
    ----------
    path : an XLSX file.
    sheet : number of the sheet in it, from 0.

    Raises
    ------
    BadInput : a cell with something in it stands too far out, or the sheet is too large.
    LookupError, ValueError, BadZipFile, ParseError : it is no XLSX file, or a broken one.
    """
    with ZipFile(path) as package:
        part = part_of_sheet(package, sheet)
        if package.getinfo(part).file_size > _LARGEST:
            raise BadInput("is over 400 MB unpacked", "Split it, or check that it is the right file.", file=path)
        lowest, rightmost = (0, 0), (0, 0)
        for row, column in _filled(package, part):
            lowest, rightmost = max(lowest, (row, column)), max(rightmost, (column, row))
    if lowest[0] * rightmost[0] > _MOST_CELLS:
        far = lowest if lowest[0] > rightmost[0] else rightmost[::-1]
        what = "something, if only a blank, stands so far out that no list can reach to it"
        fault = BadInput(what, "Clear the cell, or copy the list into a new workbook.", file=path)
        fault.cell = cell_name(*far)
        raise fault


def part_of_sheet(package: ZipFile, sheet: int) -> str:
    """Name of the part of the file that holds a sheet."""
    listed = [entry for entry in _elements(package, "xl/workbook.xml") if entry.tag.endswith("}sheet")]
    (link,) = (value for name, value in listed[sheet].items() if name.endswith("}id"))
    targets = {entry.get("Id"): entry.get("Target", "") for entry in _elements(package, "xl/_rels/workbook.xml.rels")}
    return posixpath.normpath(posixpath.join("/xl", targets[link])).lstrip("/")


def place_of(name: str) -> tuple[int, int] | None:
    """Row and column, from 1, of a cell that is called so, such as ``C7``; None for other text."""
    found = _NAME.fullmatch(name.encode())
    return (int(found[2]), _number(found[1])) if found else None


def _elements(package: ZipFile, part: str) -> Iterator[ElementTree.Element]:
    return ElementTree.fromstring(package.read(part)).iter()


def _filled(package: ZipFile, part: str) -> Iterator[tuple[int, int]]:
    """Rows and columns, from 1, of the cells that hold something; one that says no place follows the one before it."""
    row, column = 0, 0
    for tag, attributes, ends in _tags(package, part):
        place = _PLACE.search(attributes)
        if tag == b"row":
            row, column = int(place[2]) if place else row + 1, 0
            continue
        row, column = (int(place[2]), _number(place[1])) if place else (row, column + 1)
        if not ends and not attributes.endswith(b"/"):
            yield row, column


def _tags(package: ZipFile, part: str) -> Iterator[tuple[bytes, bytes, bytes]]:
    rest = b""
    with package.open(part) as text:
        while chunk := text.read(_CHUNK):
            read = rest + chunk
            last = read.rfind(b"<")
            yield from _ROW_OR_CELL.findall(read[:last])
            rest = read[last:]
    yield from _ROW_OR_CELL.findall(rest)


def _number(letters: bytes) -> int:
    """Number of a column from its letters."""
    number = 0
    for letter in letters:
        number = 26 * number + letter - ord("A") + 1
    return number
