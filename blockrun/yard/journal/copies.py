"""A whole copy of the journal, and everything in it as CSV."""

from __future__ import annotations

import contextlib
import csv
import io
import json
import os
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Final

from blockrun.errors import JournalError
from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.events import COUNTED_IN, ELSE_IN, KINDS, Counted, Delivered, Undone
from blockrun.yard.journal.standing import standing

OF_EVERY_ENTRY: Final = ("number", "key", "happened", "written", "counts")
"""First columns of each table: ``counts`` is false for what was undone."""

_UNIT: Final = "unit"
"""Column of what an amount is counted in."""

_FIGURES: Final = 12


def copy_whole(database: sqlite3.Connection, place: Path) -> None:
    """Copy a database into a new file, which is there whole or not at all; others may write meanwhile.

    Parameters
    ----------
    database : an open connection to it.
    place : of the copy; nothing may be there.

    Raises
    ------
    JournalError : something is there.
    """
    if place.exists():
        raise JournalError("exists already", "Give another name for the copy.", file=place)
    new = place.with_name(f".{place.name}.new-{os.getpid()}")
    new.unlink(missing_ok=True)
    try:
        database.execute("VACUUM INTO ?", (str(new),))
        with new.open("rb") as written:
            os.fsync(written.fileno())
        new.rename(place)
    finally:
        with contextlib.suppress(OSError):
            new.unlink(missing_ok=True)


def as_csv(entries: Iterable[Entry]) -> dict[str, str]:
    """Everything as CSV, a table for each kind of event that there is.

    Parameters
    ----------
    entries : in any order.

    Returns
    -------
    Text by the name of its file: entries by when they happened, with ``counts`` false for those that were undone; what
    has parts of its own, such as blocks, stands in its cell as JSON.
    """
    told = sorted(entries, key=lambda entry: entry.place)
    counted = {entry.key for entry in standing(told)}
    return {
        f"{kind.replace(' ', '_')}.csv": _table(kind, of_kind, counted)
        for kind in KINDS
        if (of_kind := [entry for entry in told if entry.event.kind == kind])
    }


def _table(kind: str, entries: list[Entry], counted: set[str]) -> str:
    fields = [name for name in KINDS[kind].model_fields if name != "kind"]
    if "amount" in fields:
        fields.insert(fields.index("amount") + 1, _UNIT)
    names = [f"undone_{name}" if name in OF_EVERY_ENTRY else name for name in fields]
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow([*OF_EVERY_ENTRY, *names])
    for entry in entries:
        writer.writerow([*_of_every(entry, counted), *_cells(entry, fields)])
    return written.getvalue()


def _of_every(entry: Entry, counted: set[str]) -> Iterator[object]:
    yield from (entry.number, entry.key, entry.happened.isoformat(timespec="minutes"), entry.written.isoformat())
    yield "" if isinstance(entry.event, Undone) else "true" if entry.key in counted else "false"


def _cells(entry: Entry, fields: Iterable[str]) -> Iterator[object]:
    told = entry.event.model_dump(mode="json")
    if isinstance(entry.event, Delivered | Counted):
        told[_UNIT] = COUNTED_IN.get(entry.event.material, ELSE_IN)
    yield from (_cell(told[name]) for name in fields)


def _cell(value: Any) -> object:
    if value is None:
        return ""
    if isinstance(value, float):
        return float(f"{value:.{_FIGURES}g}")  # what was typed in another unit is not of more than that
    return json.dumps(value, ensure_ascii=False) if isinstance(value, list | dict) else value
