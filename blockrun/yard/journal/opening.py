"""The file of the journal: making it, opening it, and bringing an older one up to date."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from blockrun.errors import JournalError
from blockrun.yard.journal.copies import copy_whole
from blockrun.yard.journal.faults import DamagedJournalError, ThereAlreadyError, check_sqlite, in_words
from blockrun.yard.journal.schema import APPLICATION, EACH_TIME, STEPS, Step
from blockrun.yard.journal.store import Journal

FILE: Final = "journal.sqlite"
"""What the journal is called in its folder."""


def create_journal(path: str | Path, steps: Sequence[Step] = STEPS) -> None:
    """Make an empty journal, where there is none; it is there whole or not at all.

    Raises
    ------
    ThereAlreadyError : there is one.
    JournalError : it cannot be written.
    """
    check_sqlite()
    place = Path(path)
    _check_nothing_left(place)
    new = place.with_name(f".{place.name}.new-{os.getpid()}")
    try:
        with in_words(place), contextlib.closing(sqlite3.connect(new, isolation_level=None)) as database:
            _prepare(database)
            database.execute("BEGIN IMMEDIATE")
            _take(database, steps, 0)
            database.execute(f"PRAGMA application_id = {APPLICATION}")
            database.execute("COMMIT")
        _put(new, place)
    except OSError as error:
        what = f"the journal cannot be written: {error.strerror or error}"
        raise JournalError(what, "Check the folder and the room on the disk.", file=place) from error
    finally:
        for made in (new, _unfinished(new)):
            with contextlib.suppress(OSError):
                made.unlink(missing_ok=True)


def open_journal(path: str | Path, *, read_only: bool = False, steps: Sequence[Step] = STEPS) -> Journal:
    """Open a journal that is there; one of an older version is copied first, then brought up to date.

    Parameters
    ----------
    path : of the file.
    read_only : nothing is to be added, so that the file and its folder need not be writable.
    steps : the versions there are.

    Raises
    ------
    JournalError : there is none, it is something else, damaged, or of a newer version.
    """
    check_sqlite()
    place = Path(path)
    if not place.is_file():
        raise JournalError(
            "there is no journal here", "Record something first, such as: blockrun record DIR poured 1", file=place
        )
    if not place.stat().st_size:
        what = "the journal is empty: all that was in it has been cut off"
        raise DamagedJournalError(what, "Put the last copy in its place (blockrun backup made it).", file=place)
    with in_words(place):
        database = connect(place, read_only=read_only)
        try:
            _check_ours(database, place, len(steps))
            _bring_up_to_date(database, place, steps, read_only=read_only)
        except BaseException:
            database.close()
            raise
    return Journal(place, database)


def open_or_create(path: str | Path) -> Journal:
    """Open a journal to add to it, made first where there is none.

    Raises
    ------
    JournalError : it cannot be made, or is something else, damaged, or of a newer version.
    """
    if not Path(path).exists():
        with contextlib.suppress(ThereAlreadyError):  # by now
            create_journal(path)
    return open_journal(path)


def connect(place: Path, *, read_only: bool) -> sqlite3.Connection:
    """Connect to a database that is there."""
    mode = "ro" if read_only else "rw"
    database = sqlite3.connect(f"{place.absolute().as_uri()}?mode={mode}", uri=True, isolation_level=None)
    if read_only:
        database.execute("PRAGMA busy_timeout = 10000")
    else:
        _prepare(database)
    return database


def version_of(database: sqlite3.Connection) -> int:
    """Which version a journal is of: the number of steps that made it."""
    return int(database.execute("PRAGMA user_version").fetchone()[0])


def _unfinished(place: Path) -> Path:
    """Where the database keeps, while it writes, what puts the file back as it was if it is broken off."""
    return place.with_name(f"{place.name}-journal")


def _check_nothing_left(place: Path) -> None:
    """Refuse a place where the database would put pages of another file into the new one."""
    left = _unfinished(place)
    if not place.exists() and left.exists() and left.stat().st_size:
        what = "lies there: something of a journal that is gone"
        raise JournalError(what, "Put that journal back beside it, or move this file away.", file=left)


def _prepare(database: sqlite3.Connection) -> None:
    for statement in EACH_TIME:
        database.execute(statement).fetchall()


def _check_ours(database: sqlite3.Connection, place: Path, newest: int) -> None:
    if database.execute("PRAGMA application_id").fetchone()[0] != APPLICATION:
        raise JournalError("is a database, and no journal of blockrun", "Check the name of the file.", file=place)
    version = version_of(database)
    if version > newest:
        what = f"the journal is of version {version}, and this blockrun knows versions up to {newest}"
        raise JournalError(what, "Use the newer blockrun that wrote it; nothing was changed.", file=place)


def _bring_up_to_date(database: sqlite3.Connection, place: Path, steps: Sequence[Step], *, read_only: bool) -> None:
    version = version_of(database)
    if version == len(steps):
        return
    if read_only:
        what = f"the journal is of version {version}, and must be brought up to date before it is read"
        raise JournalError(what, "Record something, or copy it to where you may write.", file=place)
    copy_whole(database, _free(place, version))
    database.execute("BEGIN IMMEDIATE")
    try:
        _take(database, steps, version_of(database))  # somebody else may have been quicker
        database.execute("COMMIT")
    except BaseException:
        if database.in_transaction:
            database.execute("ROLLBACK")
        raise


def _take(database: sqlite3.Connection, steps: Sequence[Step], version: int) -> None:
    """Take the steps from a version to the newest, within a transaction."""
    for step in steps[version:]:
        for statement in step:
            database.execute(statement)
    database.execute(f"PRAGMA user_version = {len(steps)}")


def _free(place: Path, version: int) -> Path:
    """Where the copy of an older version goes."""
    names = (f"{place.stem}.version-{version}{more}{place.suffix}" for more in ("", *(f"-{n}" for n in range(2, 1000))))
    return next(free for name in names if not (free := place.with_name(name)).exists())


def _put(new: Path, place: Path) -> None:
    """Give a new file its name, unless another is there."""
    try:
        os.link(new, place)
    except FileExistsError:
        raise _there_already(place) from None
    except OSError:  # a disk that knows no second name of a file
        if place.exists():
            raise _there_already(place) from None
        new.rename(place)


def _there_already(place: Path) -> ThereAlreadyError:
    return ThereAlreadyError("a journal is there already", "Open it, or choose another place.", file=place)
