"""Is the journal whole, and is every entry what was written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Final, NamedTuple

from blockrun.errors import JournalError
from blockrun.yard.journal.entry import Entry, entry_of
from blockrun.yard.journal.events import Undone
from blockrun.yard.journal.faults import DamagedJournalError, UnknownEntryError
from blockrun.yard.journal.odd import odd_said
from blockrun.yard.journal.opening import open_journal
from blockrun.yard.journal.salvage import readable
from blockrun.yard.journal.store import Journal
from blockrun.yard.journal.uncollected import uncollected

SLOW: Final = timedelta(minutes=1)
"""Two clocks of one yard may differ by so much and are no note (our choice)."""


@dataclass(frozen=True)
class Verdict:
    """What there is to say of a journal.

    Attributes
    ----------
    entries : how many it has; of a damaged one, how many can be saved.
    faults : what is wrong with it; empty for one that is whole.
    notes : what is odd about it, and no fault.
    """

    entries: int
    faults: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def verify(path: str | Path) -> Verdict:
    """Look through a whole journal.

    Parameters
    ----------
    path : of the file; it is not changed.

    Raises
    ------
    JournalError : there is no file, or it is not for this version to judge.
    """
    if not Path(path).is_file():
        raise JournalError(
            "there is no journal here", "Record something first, such as: blockrun record DIR poured 1", file=path
        )
    try:
        with open_journal(path, read_only=True) as journal, uncollected():
            faults, seen = _looked_through(journal)
    except DamagedJournalError as damage:
        faults, seen = [damage.what], []
    if faults:
        return Verdict(len(readable(path).entries), tuple(faults))
    return Verdict(len(seen), notes=tuple(_notes(seen)))


class _Seen(NamedTuple):
    """What is kept of an entry that was looked at."""

    number: int
    key: str
    written: datetime
    undoes: str | None


def _looked_through(journal: Journal) -> tuple[list[str], list[_Seen]]:
    """What is wrong with the pages, the rows and their numbers; and what was seen of each entry.

    Entries that only a newer version knows are a fault beside others alone: by themselves they are not for this one.
    """
    faults, seen, rows = [*odd_said(journal.odd_pages())], [], journal.rows()
    unknown: list[UnknownEntryError] = []
    for row in rows:
        try:
            seen.append(_seen(entry_of(row, journal.path)))
        except DamagedJournalError as damage:
            faults.append(damage.what)
        except UnknownEntryError as fault:
            unknown.append(fault)
    faults += _gaps([row[0] for row in rows])
    if unknown and not faults:
        raise unknown[0]
    return [*faults, *(fault.what for fault in unknown)], seen


def _seen(entry: Entry) -> _Seen:
    undoes = entry.event.key if isinstance(entry.event, Undone) else None
    return _Seen(entry.number, entry.key, entry.written, undoes)


def _gaps(numbers: list[int]) -> Iterator[str]:
    """Numbers run on from one: a gap is an entry that somebody took out."""
    for before, after in pairwise([0, *numbers]):
        if after - before == 2:
            yield f"entry {before + 1} is missing"
        elif after - before > 2:
            yield f"entries {before + 1} to {after - 1} are missing"


def _notes(entries: list[_Seen]) -> Iterator[str]:
    """Clocks that were set back, and undoings of what nobody recorded."""
    for before, after in pairwise(entries):
        back = before.written - after.written
        if back > SLOW:
            yield f"between entries {before.number} and {after.number} a clock was set back, or one entry came late"
    known = {entry.key for entry in entries}
    for entry in entries:
        if entry.undoes is not None and entry.undoes not in known:
            yield f"entry {entry.number} undoes one that is not there: {entry.undoes}"
