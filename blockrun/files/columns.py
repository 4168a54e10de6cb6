"""Which columns a table has: by what names they go, and which row names them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Columns:
    """The columns of a table.

    Parameters
    ----------
    needed : for each column that must be there the names it may go by, the one to propose first.
    optional : names of columns that may be missing.
    """

    needed: tuple[tuple[str, ...], ...]
    optional: tuple[str, ...] = ()

    def named_by(self, cells: Sequence[str]) -> bool:
        """Whether all columns that must be there are named in a row."""
        return all(any(name in cells for name in names) for names in self.needed)

    def hinted_at_by(self, cells: Sequence[str]) -> bool:
        """Whether any cell of a row looks like the name of a column, well spelt or not."""
        roots = {_root(name) for names in (*self.needed, self.optional) for name in names}
        return any(_root(cell) in roots for cell in cells)

    def header_of(self, rows: Sequence[Sequence[str]]) -> int:
        """Index of the row that names the columns, or looks as if it should.

        A title or a note above it is passed over; a row with as many cells as there must be columns is no title, so
        that no row of values above the names is ever left out.
        """
        full = (index for index, cells in enumerate(rows) if sum(map(bool, cells)) >= len(self.needed))
        last = next(full, 0)
        named = (index for index in range(last + 1) if self.named_by(rows[index]))
        return next(named, last if self.hinted_at_by(rows[last]) else 0)

    def chosen(self, cells: Sequence[str]) -> list[str]:
        """For each column that must be there the name a row has for it, or the one to propose."""
        return [next((name for name in names if name in cells), names[0]) for names in self.needed]


def _root(name: str) -> str:
    """The word a name starts with: ``Length (mm)`` and ``length_mm`` both have ``length``."""
    return name.lower().replace("_", " ").partition(" ")[0]
