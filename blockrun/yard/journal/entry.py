"""An entry of the journal: an event, when it happened, when it was written down, and the key of whoever did."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from blockrun.errors import JournalError
from blockrun.yard.journal.events import EVENTS, AnyEvent
from blockrun.yard.journal.faults import SEE, DamagedJournalError, UnknownEntryError, verified

LONGEST_KEY: Final = 200
AND: Final = "+"
"""Stands in the key of each further entry of one command, before its number: what came together goes together."""

Row = tuple[int, str, str, str, str, str]
"""Number, key, happened, written, event, digest: the columns of the table."""


@dataclass(frozen=True)
class Entry:
    """One entry.

    Parameters
    ----------
    key : made by whoever records it, once; the same entry sent again has the same.
    happened : by the clock of the yard, to the minute, without an offset.
    written : when it was recorded, with the offset of the clock that was read.
    event : what happened.
    number : its place in the order in which entries came into the file; 0 before it is there.

    Raises
    ------
    JournalError : the key or one of the times cannot be kept.
    """

    key: str
    happened: datetime
    written: datetime
    event: AnyEvent
    number: int = field(default=0, compare=False)

    def __post_init__(self) -> None:
        """Refuse what could not be read back."""
        if not 0 < len(self.key) <= LONGEST_KEY or not self.key.isprintable():
            raise JournalError(f"{self.key[:40]!r} is no key", "Give each entry a key of 1 to 200 letters.", name="key")
        if self.happened.tzinfo or self.happened.second or self.happened.microsecond:
            todo = "Write a time to the minute, by the clock of the yard, for example 2027-04-05T10:40."
            raise JournalError(f"{self.happened} is no time of the yard", todo, name="happened")
        if self.written.tzinfo is None:
            raise JournalError("nobody knows by which clock it was written", "Add the offset.", name="written")

    @property
    def place(self) -> tuple[datetime, datetime, str, int, str]:
        """Where it stands among all entries, in whatever order they came: by when it happened."""
        first, number = _parted(self.key)
        return self.happened, self.written, first, number, self.key


def together(key: str) -> str:
    """The key of the first of those entries that were recorded by one command."""
    return _parted(key)[0]


def _parted(key: str) -> tuple[str, int]:
    """The key of the first entry of a command, and the number of this one among all that it made."""
    first, mark, number = key.rpartition(AND)
    return (first, int(number)) if mark and number.isdecimal() else (key, 1)


def row_of(entry: Entry, number: int) -> Row:
    """An entry as a row."""
    told = json.dumps(
        entry.event.model_dump(mode="json", exclude_defaults=True) | {"kind": entry.event.kind},
        ensure_ascii=False,
        sort_keys=True,
        separators=(",", ":"),
    )
    happened = entry.happened.isoformat(timespec="minutes")
    cells = (number, entry.key, happened, entry.written.isoformat(), told)
    return (*cells, digest_of(*cells))


def entry_of(row: Row, path: Path) -> Entry:
    """The entry that a row holds.

    Parameters
    ----------
    row : of the table.
    path : of the journal, to be named where something is wrong.

    Raises
    ------
    DamagedJournalError : the row is not what was written.
    UnknownEntryError : it is of a kind that this version does not know.
    """
    number, key, happened, written, told, digest = row
    if digest_of(number, key, happened, written, told) != digest:
        what = f"entry {number} of the journal is not what was written"
        raise DamagedJournalError(what, verified(SEE, path), file=path, name="number", value=number)
    try:
        event = EVENTS.validate_json(told)
        return Entry(key, datetime.fromisoformat(happened), datetime.fromisoformat(written), event, number)
    except (ValidationError, ValueError, JournalError) as error:
        what = f"entry {number} of the journal cannot be read: {_first(error)}"
        todo = "Was it written by a newer version?"
        raise UnknownEntryError(what, todo, file=path, name="number", value=number) from error


def digest_of(number: int, key: str, happened: str, written: str, told: str) -> str:
    """What tells that a row is the one that was written."""
    return hashlib.blake2b(f"{number}\n{key}\n{happened}\n{written}\n{told}".encode(), digest_size=16).hexdigest()


def _first(error: Any) -> str:
    if not isinstance(error, ValidationError):
        return str(error)
    fault = error.errors(include_url=False, include_input=False)[0]
    if fault["type"] == "union_tag_invalid":
        return f"no {fault['ctx']['tag']} is known here"
    return f"{'.'.join(str(step) for step in fault['loc'])}: {fault['msg']}"
