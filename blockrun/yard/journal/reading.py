"""All entries of the journal beside a plan, read at once."""

from __future__ import annotations

from pathlib import Path

from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.opening import FILE, open_journal


def entries_in(directory: Path) -> list[Entry]:
    """All that is recorded beside a plan, whether it counts or not.

    Raises
    ------
    JournalError : there is no journal, or it cannot be read.
    """
    with open_journal(directory / FILE, read_only=True) as journal:
        return journal.entries()


def entries_kept(directory: Path) -> list[Entry]:
    """The same; none where there is no journal yet."""
    return entries_in(directory) if (directory / FILE).exists() else []
