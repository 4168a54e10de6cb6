"""What the database says when something is wrong, in words of ours."""

from __future__ import annotations

import contextlib
import shlex
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from blockrun.errors import JournalError

LEAST_SQLITE: Final = (3, 37, 0)
"""The first that keeps a column to its type."""

SEE: Final = "See what can be saved"
WHOLE: Final = "See whether it is whole"
NOTHING_KEPT: Final = "Nothing of this was recorded. "
SAID: Final[dict[int, tuple[str, str]]] = {
    sqlite3.SQLITE_BUSY: ("somebody else has been writing to it for ten seconds", f"{NOTHING_KEPT}Try again."),
    sqlite3.SQLITE_LOCKED: ("somebody else has been writing to it for ten seconds", f"{NOTHING_KEPT}Try again."),
    sqlite3.SQLITE_FULL: ("the disk is full", f"{NOTHING_KEPT}Make room on the disk, then record it again."),
    sqlite3.SQLITE_IOERR: (
        "the disk does not take or give it",
        f"{NOTHING_KEPT}Check the disk and the room left on it.",
    ),
    sqlite3.SQLITE_READONLY: ("may only be read", f"{NOTHING_KEPT}Check the permissions of the file and its folder."),
    sqlite3.SQLITE_PERM: ("may not be opened", "Check the permissions of the file and its folder."),
    sqlite3.SQLITE_CANTOPEN: ("cannot be opened", "Check the name, and the permissions of the file and its folder."),
    sqlite3.SQLITE_CORRUPT: ("is damaged", SEE),
    sqlite3.SQLITE_NOTADB: ("is no journal, or is damaged from its beginning", SEE),
}


DAMAGED: Final = frozenset({sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB})


class DamagedJournalError(JournalError):
    """The file is not what was written; some of it may be saved."""


class UnknownEntryError(JournalError):
    """An entry is what was written, and not for this version to read."""


class ThereAlreadyError(JournalError):
    """A journal that was to be made is there: somebody else may have been quicker."""


class OthersWroteError(JournalError):
    """Somebody else has added entries since the journal was read."""


def verified(what: str, path: Path) -> str:
    """What to do, with the command that looks through a journal."""
    return f"{what}: {shlex.join(['blockrun', 'verify', str(path.parent)])}"


@contextlib.contextmanager
def in_words(path: Path) -> Iterator[None]:
    """Say what the database refuses as an error of the journal.

    Raises
    ------
    JournalError : in the place of any error of the database.
    """
    try:
        yield
    except sqlite3.Error as error:
        # the low byte is the kind, what is above tells it more precisely
        code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF
        what, todo = SAID.get(code, (f"cannot be used: {error}", WHOLE))
        todo = verified(todo, path) if todo in {SEE, WHOLE} else todo
        kind = DamagedJournalError if code in DAMAGED else JournalError
        raise kind(f"the journal {what}", todo, file=path) from error


def check_sqlite() -> None:
    """Refuse a database library that is too old.

    Raises
    ------
    JournalError : it is.
    """
    if sqlite3.sqlite_version_info < LEAST_SQLITE:
        needed = ".".join(map(str, LEAST_SQLITE))
        what = f"this Python brings SQLite {sqlite3.sqlite_version}, and the journal needs {needed} or later"
        raise JournalError(what, "Use a newer Python.")
