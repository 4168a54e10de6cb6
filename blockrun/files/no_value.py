"""Cells of a workbook that show an error, or whose formula has no value stored: to its reader all of them are empty."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Final
from xml.etree import ElementTree
from zipfile import ZipFile

from blockrun.errors import BadInput
from blockrun.files.far_out import part_of_sheet, place_of

_CHUNK: Final = 1 << 20
_FORMULA_OR_ERROR: Final = re.compile(rb"<(?:\w+:)?f[\s>/]|\st\s*=\s*[\"']e[\"']")
_LONGEST_MATCH: Final = 64


def cells_without_value(path: Path, sheet: int) -> dict[tuple[int, int], str]:
    """What to show of each such cell, by row and column from 1: ``#DIV/0!``, or its formula with ``=`` before it.

    Parameters
    ----------
    path : an XLSX file.
    sheet : number of the sheet in it, from 0.

    Raises
    ------
    LookupError, ValueError, BadZipFile, ParseError : it is no XLSX file, or a broken one.

    Source
    ------
    ECMA-376, part 1, 18.3.1.4: a cell of type ``e`` is an error; a formula that gives no text has one of type ``str``.
    """
    with ZipFile(path) as package:
        part = part_of_sheet(package, sheet)
        with package.open(part) as text:
            if not _may_have_some(text):
                return {}
        with package.open(part) as text:
            return dict(_found(text))


def no_value(shown: str) -> BadInput:
    """The fault of reading such a cell."""
    if shown.startswith("="):
        what = f"its formula {shown}".rstrip(" =") + " has no value stored with it"
        return BadInput(what, "Open the file in the spreadsheet program and save it once, or write the value.")
    return BadInput(f"shows the error {shown}", "Mend its formula, or write the value in its place.")


def _may_have_some(text: IO[bytes]) -> bool:
    rest = b""
    while chunk := text.read(_CHUNK):
        if _FORMULA_OR_ERROR.search(rest + chunk):
            return True
        rest = chunk[-_LONGEST_MATCH:]
    return False


def _found(text: IO[bytes]) -> Iterator[tuple[tuple[int, int], str]]:
    row, column = 0, 0
    for event, element in ElementTree.iterparse(text, ("start", "end")):
        tag = element.tag.rpartition("}")[2]
        if event == "start" and tag == "row":
            row, column = int(element.get("r") or row + 1), 0
        elif event == "start" and tag == "c":
            row, column = place_of(element.get("r") or "") or (row, column + 1)
        elif event == "end" and tag == "c" and (shown := _without_value(element)):
            yield (row, column), shown
        elif event == "end" and tag == "row":
            element.clear()


def _without_value(cell: ElementTree.Element) -> str:
    """What to show of a cell that has no value; empty for any other."""
    told = {child.tag.rpartition("}")[2]: (child.text or "").strip() for child in cell}
    if cell.get("t") == "e":
        return told.get("v") or "#"
    return f"={told['f']}" if "f" in told and not told.get("v") and cell.get("t") != "str" else ""
