"""The row that names the columns of a table, or two of them: one with a word or a unit that stands over several."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Final

from blockrun.files.columns import Columns
from blockrun.files.grid import Grid, Row

_UNIT: Final = re.compile(r"(?:[(\[,_:]\s*|\bin\s+)([a-z]+\d?)\W*$", re.IGNORECASE)
"""The last word of a title or a name, where a sign or ``in`` before it says that it is a unit."""
UNIT_AFTER: Final = re.compile(r"(.*[0-9.])\s*([a-z]+)\.?", re.IGNORECASE)
"""A number and the unit behind it."""


@dataclass(frozen=True)
class Header:
    """The names of the columns as one row, and how many rows of the grid end with it."""

    row: Row
    ends: int
    clashes: tuple[tuple[int, str], ...] = ()
    """Columns, from 0, that say one unit while what stands over them says another."""


def find_header(grid: Grid, columns: Columns) -> Header:
    """The header of a table, or the rows that look as if they should be it.

    A title or a note above it is passed over; a row with as many cells as there must be columns is no title, so
    that no row of values above the names is ever left out.
    """
    heads = list(_heads(grid, columns))
    named = (head for head in heads if columns.named_by(head.row.cells))
    likely = max(reversed(heads), key=lambda head: columns.hints(head.row.cells))
    return next(named, likely if columns.hints(likely.row.cells) else heads[0])


def _heads(grid: Grid, columns: Columns) -> Iterator[Header]:
    """Rows that may name the columns, each alone and then with the one above it."""
    rows = grid.rows
    full = (index for index, row in enumerate(rows) if sum(map(bool, row.cells)) >= len(columns.needed))
    last = next(full, 0)
    for index, row in enumerate(rows[: last + 2]):
        upper = rows[index - 1] if index and rows[index - 1].number == row.number - 1 else None
        pair = _Pair(upper, row, grid, columns) if upper else None
        if index <= last:
            alone = tuple(columns.known(cell) or cell for cell in row.cells)
            yield Header(Row(row.number, alone), index + 1, tuple(pair.clashes()) if pair else ())
        if pair and (index <= last or pair.is_header()):
            yield Header(Row(row.number, tuple(pair.names())), index + 1, tuple(pair.clashes()))


class _Pair:
    """Two rows, one right above the other, as a header of two rows.

    A cell of the upper row stands over the one below it; one that is merged over several columns over all of these;
    any other over the empty cells to its right, too.
    """

    def __init__(self, upper: Row, lower: Row, grid: Grid, columns: Columns) -> None:
        self._columns = columns
        self._cells = list(zip_longest(upper.cells, lower.cells, fillvalue=""))
        ends = {one.first_column: one.last_column for one in grid.merged if upper.number in one.rows_of({upper.number})}
        self._over: list[str] = []
        over, end = "", 0
        for number, (above, _) in enumerate(self._cells, 1):
            if above:
                over, end = above, ends.get(number, len(self._cells))
            self._over.append(over if number <= end else "")

    def names(self) -> Iterator[str]:
        """What the columns are called."""
        for (above, below), over in zip(self._cells, self._over, strict=True):
            tries = (below, f"{below} {_unit(over)}", f"{above} {below}") if below else (above,)
            yield next(filter(None, map(self._columns.known, tries)), self._said_twice(above, below) or below or above)

    def _said_twice(self, above: str, below: str) -> str | None:
        """The name that the upper cell has, where the lower one is another word for it: ``pcs`` under ``count``."""
        name = self._columns.known(above)
        return name if name and self._columns.meant(below) == name else None

    def is_header(self) -> bool:
        """Whether every cell of the upper row says something of the names below, so that no values are lost."""
        return all(self._is_used(index) for index, (above, _) in enumerate(self._cells) if above)

    def _is_used(self, index: int) -> bool:
        above, below = self._cells[index]
        is_wide = self._over[index : index + 2] == [above, above] and not self._cells[index + 1][0]
        completes = not self._columns.known(below) and self._columns.known(list(self.names())[index])
        return not below or above == below or is_wide or bool(completes)

    def clashes(self) -> Iterator[tuple[int, str]]:
        """Columns that say one unit while what stands over them says another."""
        for index, ((_, below), over) in enumerate(zip(self._cells, self._over, strict=True)):
            name = self._columns.known(below)
            other = self._columns.known(f"{name.rpartition('_')[0]} {_unit(over)}") if name and _unit(over) else name
            if name and other and other != name:
                yield index, over


def with_units_of_cells(header: Row, rows: Sequence[Row], columns: Columns) -> Row:
    """The header, where a column that leaves out its unit has one and the same behind all of its numbers."""

    def name(index: int, title: str) -> str:
        if not columns.units_of(title):
            return title
        written = [row.cells[index] for row in rows if row.cells[index : index + 1] not in ((), ("",))]
        behind = {found[2] if (found := UNIT_AFTER.fullmatch(cell)) else "" for cell in written}
        unit = behind.pop() if len(behind) == 1 else ""
        return columns.known(f"{title} {unit}") or title

    return Row(header.number, tuple(name(index, title) for index, title in enumerate(header.cells)))


def _unit(text: str) -> str:
    """The unit that a name or a title ends with, such as ``mm`` of ``Size (mm)``; empty where there is none."""
    found = _UNIT.search(text)
    return found[1] if found else ""


def is_named(rows: Sequence[Sequence[str]], columns: Columns) -> bool:
    """Whether rows of cells, in any one or two of them, name all columns that must be there."""
    grid = Grid.of(Row(number, tuple(cells)) for number, cells in enumerate(rows, 1))
    return bool(grid.rows) and columns.named_by(find_header(grid, columns).row.cells)
