"""Rows of cells as a file has them, and ranges of them that show as one."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Row:
    """Cells of one row as text, spaces at their ends taken off, and the number of the row in its file, from 1."""

    number: int
    cells: tuple[str, ...]


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

    def rows_of(self, numbers: Container[int]) -> list[int]:
        """Those of some rows that it covers."""
        return [number for number in range(self.first_row, self.last_row + 1) if number in numbers]


@dataclass(frozen=True)
class Grid:
    """Rows of a file, blank ones left out, those of its merged ranges that say something, and names of its sheets.

    Cells without a value, by row and column from 1, have a text to show for it, which nothing may be read from.
    A cell merged down over several rows reads as its value in each of them; one merged over several columns stands in
    the first of these. A row without anything of its own is blank, whatever is merged into it from above.
    """

    rows: tuple[Row, ...]
    merged: tuple[Merged, ...] = ()
    sheets: tuple[str, ...] = ()
    without_value: Mapping[tuple[int, int], str] = field(default_factory=dict)

    @classmethod
    def of(
        cls,
        rows: Iterable[Row],
        merged: tuple[Merged, ...] = (),
        sheets: tuple[str, ...] = (),
        without_value: Mapping[tuple[int, int], str] | None = None,
    ) -> Grid:
        """The grid of rows as they lie in a file."""
        cells = {row.number: list(row.cells) for row in rows}
        said = {one: text for one in merged if (text := _taken_out(cells, one))}
        begin = {one.first_row for one in said}
        filled = {number: own for number, own in cells.items() if any(own) or number in begin}
        for one, text in said.items():
            for number in one.rows_of(filled):
                filled[number][one.first_column - 1] = text
        without = dict(without_value or {})
        for one in said:
            if shown := without.get((one.first_row, one.first_column)):
                without |= {(number, one.first_column): shown for number in one.rows_of(filled)}
        return cls(tuple(Row(number, tuple(own)) for number, own in filled.items()), tuple(said), sheets, without)


def _taken_out(cells: dict[int, list[str]], merged: Merged) -> str:
    """The text of a range, taken out of its cells; what lies under others than the first does not show."""
    first = merged.first_column - 1
    text = "".join(cells.get(merged.first_row, [])[first : merged.first_column])
    for number in merged.rows_of(cells):
        covered = cells[number][first : merged.last_column]
        cells[number][first : merged.last_column] = [""] * len(covered)
    return text


def cell_name(row: int, column: int) -> str:
    """What a workbook calls the cell in a row and a column, both from 1: ``C7``."""
    letters = ""
    while column > 0:
        column, letter = divmod(column - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{row}"
