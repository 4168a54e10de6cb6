"""What of a damaged journal can be saved, into a new one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from blockrun.errors import JournalError
from blockrun.yard.journal.entry import Entry, digest_of, entry_of
from blockrun.yard.journal.faults import UnknownEntryError
from blockrun.yard.journal.opening import create_journal, open_journal
from blockrun.yard.journal.pages import rows_in
from blockrun.yard.journal.uncollected import uncollected


@dataclass(frozen=True)
class Saved:
    """What could be saved.

    Attributes
    ----------
    entries : in the order in which they came, each as it was written.
    missing : numbers of entries between them, and before the first, that could not be read, and of those of a kind that
        this version does not know; nobody knows of others after the last.
    """

    entries: tuple[Entry, ...]
    missing: tuple[int, ...]


def readable(path: str | Path) -> Saved:
    """Read all entries of a file that are as they were written, whatever has become of the rest of it.

    Raises
    ------
    JournalError : the file cannot be read at all.
    """
    try:
        content = Path(path).read_bytes()
    except OSError as error:
        what = f"the journal cannot be read: {error.strerror or error}"
        raise JournalError(what, "Check the name and the permissions.", file=path) from error
    with uncollected():
        known = dict(_whole(content, Path(path)))
    found = {number: entry for number, entry in known.items() if entry is not None}
    missing = set(range(1, max(known, default=0) + 1)) - found.keys()
    return Saved(tuple(found[number] for number in sorted(found)), tuple(sorted(missing)))


def salvage(path: str | Path, out: str | Path) -> Saved:
    """Write what can be read of a damaged journal into a new one, numbered anew; the old file stays as it is.

    Parameters
    ----------
    path : of the damaged file.
    out : of the new one; nothing may be there.

    Raises
    ------
    JournalError : nothing can be read, or the new file cannot be written.
    """
    saved = readable(path)
    if not saved.entries:
        raise JournalError("nothing of the journal can be read", "Put the last copy in its place.", file=path)
    create_journal(out)
    with open_journal(out) as journal:
        journal.append(saved.entries)
    return saved


def _whole(content: bytes, path: Path) -> Iterator[tuple[int, Entry | None]]:
    """Entries whose digest says that they are what was written, by number; None for one that nobody here can read."""
    for number, values in rows_in(content):
        match values:
            case [_, str(key), str(happened), str(written), str(told), str(digest)]:
                if digest == digest_of(number, key, happened, written, told):
                    try:
                        yield number, entry_of((number, key, happened, written, told, digest), path)
                    except UnknownEntryError:
                        yield number, None
