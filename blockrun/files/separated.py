"""CSV: lines of cells with a separator between, which is told from the line that names the columns."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.header import is_named

_SEPARATORS: Final = (",", ";", "\t")
_DEEPEST_HEADER: Final = 20


def separator_of(lines: Sequence[str], columns: Columns | None) -> str:
    """The separator with which a line names the columns, or else the one that the first line with any has most of."""
    filled = [line for line in lines if line.strip()]
    for separator in _SEPARATORS if columns else ():
        cells = [[cell.strip(' "') for cell in line.split(separator)] for line in filled[:_DEEPEST_HEADER]]
        if columns and is_named(cells, columns):
            return separator
    first = next((line for line in filled if any(separator in line for separator in _SEPARATORS)), "")
    return max(_SEPARATORS, key=first.count)


def records(path: Path, lines: Sequence[str], separator: str) -> Iterator[Row]:
    """The cells of each line.

    Raises
    ------
    BadInput : the quotes of a line are wrong, or a cell runs over the end of its line.
    """
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


def start_of(line: str, separator: str, index: int) -> int:
    """Where in a line the cell of this index starts, from 1, or the line ends before it; quoted separators are text."""
    quoted, seen = False, 0
    for position, char in enumerate(line):
        if char == '"':
            quoted = not quoted
        elif char == separator and not quoted:
            seen += 1
            if seen == index:
                return position + 2
    return len(line) + 1 if index else 1
