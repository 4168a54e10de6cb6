"""Which columns a table has, and by what names they go."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property


@dataclass(frozen=True)
class Columns:
    """The columns of a table.

    Parameters
    ----------
    needed : for each column that must be there the names it may go by, the one to propose first.
    optional : names of columns that may be missing.
    of_one_row : those whose number is of one row alone, so that one merged over several is for nobody to tell.
    elsewhere : what some columns are called in other tables, in small letters, and their name here.
    """

    needed: tuple[tuple[str, ...], ...]
    optional: tuple[str, ...] = ()
    of_one_row: tuple[str, ...] = ()
    elsewhere: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def _names(self) -> dict[str, str]:
        return {_plain(name): name for name in (*(name for names in self.needed for name in names), *self.optional)}

    def known(self, cell: str) -> str | None:
        """The name of a column that a cell writes in its own way: ``length_mm`` for ``Length (mm)``."""
        return self._names.get(_plain(cell))

    def meant(self, cell: str) -> str | None:
        """The name here of a column that other tables call so: ``count`` for ``Qty.``."""
        return self.elsewhere.get(_plain(cell))

    def units_of(self, cell: str) -> list[str]:
        """The names of a column of which a cell leaves out the unit: ``length_mm``, ``length_cm`` for ``Length``."""
        return [name for names in self.needed for name in names if name.rpartition("_")[0] == _plain(cell) != ""]

    def named_by(self, cells: Sequence[str]) -> bool:
        """Whether all columns that must be there are named in a row."""
        found = {self.known(cell) for cell in cells}
        return all(not found.isdisjoint(names) for names in self.needed)

    def hints(self, cells: Sequence[str]) -> int:
        """How many cells of a row look like the name of a column, well spelt or not."""
        roots = {plain.partition("_")[0] for plain in self._names}
        return sum(_plain(cell).partition("_")[0] in roots for cell in cells if cell)

    def chosen(self, cells: Sequence[str]) -> list[str]:
        """For each column that must be there the name a row has for it, or the one to propose."""
        return [next((name for name in names if name in cells), names[0]) for names in self.needed]


def _plain(text: str) -> str:
    """Small letters, with a low line for all that is neither letter nor figure."""
    return re.sub(r"[\W_]+", "_", text.lower()).strip("_")
