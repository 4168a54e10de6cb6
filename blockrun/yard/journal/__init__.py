"""What really happened in the yard: one file beside the plan, to which events are added and from which none is taken.

::

    events.py       the kinds of things that happen, and what is told of each
    limits.py       what is beyond the limits of an event, in words
    entry.py        an event with its key and both its times, as a row of the file, and back
    standing.py     what is left of all entries once those that undo others are heeded
    schema.py       the table, what guards it, and how older files are brought up to date
    opening.py      the file: making and opening it
    reading.py      all entries at once
    store.py        an open journal: adding to it and reading it
    faults.py       what the database says, in words
    verify.py       is the file whole, and is every row what was written
    odd.py          what the database finds wrong with its pages, in words
    pages.py        rows read from the bare pages of a file that no database opens any more
    salvage.py      what of a damaged file can be saved, into a new one
    copies.py       a copy of the whole file, and everything as CSV
    uncollected.py  no looking for garbage while many entries are read

An entry is added in one transaction that is on the disk when the call returns: whoever was told that something is
recorded will find it. The key is made by whoever records, so that the same entry sent twice counts once. Nothing is
changed or erased: a mistake is undone by a further entry. No time is read here; both come in with the entry.
"""

from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.opening import FILE, create_journal, open_journal, open_or_create
from blockrun.yard.journal.reading import entries_in, entries_kept
from blockrun.yard.journal.standing import standing
from blockrun.yard.journal.store import Journal

__all__ = [
    "FILE",
    "Entry",
    "Journal",
    "create_journal",
    "entries_in",
    "entries_kept",
    "open_journal",
    "open_or_create",
    "standing",
]
