"""Everything that was recorded as CSV, and where every block is now.

Names of its tables are plain ones, which somebody may have given a list or a forecast of their own: an old export is
known by the first lines of its tables, and only what begins so is replaced.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.text import read_text
from blockrun.files.writing import whole_folder
from blockrun.yard.called import Called, as_recorded
from blockrun.yard.journal import Entry
from blockrun.yard.journal.copies import as_csv
from blockrun.yard.now import UNKNOWN, Pile, State, state_of

MARK: Final = "blocks.csv"
"""The table of where every block is, which is always there."""

COLUMNS: Final = ("place", "name", "course", "mark", "mix", "batch", "poured", "since", "count", "plan", "recorded")


def export(entries: Sequence[Entry], place: Path, called: Called = as_recorded, *, replace: bool = False) -> int:
    """Write all tables into a folder, all of them or none.

    Parameters
    ----------
    entries : of a journal, in the order they were written in.
    called : what batches are called.
    place : the folder; new, or empty, or with ``replace`` one that holds an old export.

    Returns
    -------
    How many tables there are.

    Raises
    ------
    BadInput : something is in the way, or a file there that would be replaced is no such table.
    """
    tables = tables_of(entries, called)
    with whole_folder(place, replace=replace, mark=MARK, line=",".join(COLUMNS)) as new:
        for name, text in tables.items():
            _check_ours(place / name, text)
            (new / name).write_text(text, encoding="utf-8", newline="")
    return len(tables)


def _first_line(text: str) -> str:
    return text.partition("\n")[0]


def _check_ours(old: Path, text: str) -> None:
    """Refuse to replace what does not begin as the new table does."""
    if old.exists() and _first_line(read_text(old)) != _first_line(text):
        raise BadInput("is no table of an old export, so it will not be replaced", "Give another name.", file=old)


def tables_of(entries: Sequence[Entry], called: Called) -> dict[str, str]:
    """All tables by the names of their files: one for each kind of event that there is, and ``MARK``."""
    return {**as_csv(entries), MARK: blocks_csv(state_of(entries), called)}


def blocks_csv(state: State, called: Called) -> str:
    """Where every block is: a row for those of one batch that came to a place together.

    ``place`` is mould, out (of a mould, on no rack yet), rack, stack, laid, broken, rejected or missing, ``name``
    which; ``course`` is of those laid; ``batch`` is empty where nobody knows, and ``poured`` then when they were found;
    ``extra 1`` is one that no plan has. That is the number of the plan in hand: ``plan`` and ``recorded`` are columns
    ``plan`` and ``batch`` of the other tables, which tell what was recorded as it was.
    """
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(COLUMNS)
    for place, name, course, pile in _places(state):
        for (mark, mix), lot in sorted(pile.lots()):
            poured, since = (moment.isoformat(timespec="minutes") for moment in (lot.poured, lot.since))
            told = (called(*lot.pour).number, *lot.batch) if lot.batch != UNKNOWN else ("", "", "")
            writer.writerow([place, name, course, mark, mix, told[0], poured, since, lot.n_blocks, *told[1:]])
    return written.getvalue()


def _places(state: State) -> Iterator[tuple[str, str, int | str, Pile]]:
    for name, standing in sorted(state.moulds.items()):
        yield "mould", name, "", standing.blocks
    for place, piles in (("out", state.out), ("rack", state.racks), ("stack", state.stacks)):
        for name, pile in sorted(piles.items()):
            yield place, name, "", pile
    for (part, course), pile in sorted(state.laid.items()):
        yield "laid", part, course or "", pile
    for place, pile in (("broken", state.broken), ("rejected", state.rejected), ("missing", state.missing)):
        yield place, "", "", pile
