"""An open journal: adding to it and reading it; ``opening`` opens it."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from blockrun.errors import JournalError
from blockrun.yard.journal.copies import copy_whole
from blockrun.yard.journal.entry import Entry, Row, entry_of, row_of
from blockrun.yard.journal.faults import OthersWroteError, in_words
from blockrun.yard.journal.schema import COLUMNS
from blockrun.yard.journal.uncollected import uncollected

TOLD_AT_ONCE: Final = 1000
"""Faults of the pages that are counted."""

ROWS: Final = f"SELECT {', '.join(COLUMNS)} FROM entry"
INSERT: Final = f"INSERT INTO entry ({', '.join(COLUMNS)}) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (key) DO NOTHING"


class Journal:
    """An open journal; use it in a ``with`` block.

    Parameters
    ----------
    path : of the file.
    database : an open connection to it, in which no transaction begins by itself.
    """

    def __init__(self, path: Path, database: sqlite3.Connection) -> None:
        self.path = path
        self._database = database

    def __enter__(self) -> Self:
        """Return the journal."""
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Close the file."""
        self._database.close()

    def append(self, entries: Iterable[Entry], after: int | None = None) -> int:
        """Add entries, all of them or none; they are on the disk when this returns.

        Parameters
        ----------
        entries : one whose key is there already, with the same event and moment, is passed over: it was sent twice.
        after : the number of the last entry that whoever adds has heeded; whatever it is, unless told.

        Returns
        -------
        How many were new.

        Raises
        ------
        JournalError : they cannot be written, or a key is there for another event; nothing was added.
        OthersWroteError : there are further entries since the last that was heeded; nothing was added.
        """
        added = 0
        with in_words(self.path), self._one_writer():
            (last,) = self._database.execute("SELECT coalesce(max(number), 0) FROM entry").fetchone()
            if after is not None and last != after:
                raise OthersWroteError("somebody else has recorded something just now", "Look again.", file=self.path)
            for entry in entries:
                row = row_of(entry, last + added + 1)
                if self._database.execute(INSERT, row).rowcount == 1:
                    added += 1
                else:
                    self._check_same(entry)
        return added

    def entries(self) -> list[Entry]:
        """All entries, in the order in which they came.

        Raises
        ------
        JournalError : the file cannot be read, or a row is not what was written.
        """
        rows = self.rows()
        with uncollected():
            return [entry_of(row, self.path) for row in rows]

    def entry(self, key: str) -> Entry:
        """The entry with a key that is there.

        Raises
        ------
        JournalError : the file cannot be read, or none has that key.
        """
        with in_words(self.path):
            row = self._database.execute(f"{ROWS} WHERE key = ?", (key,)).fetchone()
        if row is None:
            raise JournalError(f"no entry has the key {key}", "Check the key.", name="key", value=key)
        return entry_of(row, self.path)

    def rows(self) -> list[Row]:
        """All rows as they stand in the file, whether or not they are what was written."""
        with in_words(self.path):
            return self._database.execute(f"{ROWS} ORDER BY number").fetchall()

    def odd_pages(self) -> list[str]:
        """What the database finds wrong with its own file, in its words."""
        with in_words(self.path):
            said = [line for (line,) in self._database.execute(f"PRAGMA integrity_check({TOLD_AT_ONCE})")]
        return [] if said == ["ok"] else said

    def backup(self, place: str | Path) -> None:
        """Copy the whole journal into a new file; others may write meanwhile.

        Raises
        ------
        JournalError : something is there, or it cannot be written.
        """
        with in_words(Path(place)):
            copy_whole(self._database, Path(place))

    def __len__(self) -> int:
        """How many entries there are."""
        with in_words(self.path):
            return int(self._database.execute("SELECT count(*) FROM entry").fetchone()[0])

    @contextlib.contextmanager
    def _one_writer(self) -> Iterator[None]:
        """A transaction that begins as a writer, so that two never wait for one another."""
        self._database.execute("BEGIN IMMEDIATE")
        try:
            yield
            self._database.execute("COMMIT")
        except BaseException:
            if self._database.in_transaction:
                self._database.execute("ROLLBACK")
            raise

    def _check_same(self, entry: Entry) -> None:
        there = self.entry(entry.key)
        if (there.happened, there.event) != (entry.happened, entry.event):
            what = f"the key {entry.key} is there already, for something else (entry {there.number})"
            raise JournalError(what, "Nothing of this was recorded. Give the new entry a key of its own.", name="key")
