"""What is left of all entries once those that undo others are heeded, in the order in which things happened."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.events import Undone
from blockrun.yard.journal.uncollected import uncollected


def standing(entries: Iterable[Entry]) -> list[Entry]:
    """Entries that count, by when they happened.

    An entry falls when one that undoes it stands; who undoes an undoing restores what it undid. Entries that undo one
    another in a ring, which no honest keys do, all fall.

    Parameters
    ----------
    entries : in any order; what comes out does not depend on it.

    Returns
    -------
    Those that stand, without the undoings themselves.
    """
    with uncollected():
        told = list(entries)
        undoers: dict[str, list[str]] = defaultdict(list)
        for entry in told:
            if isinstance(entry.event, Undone):
                undoers[entry.event.key].append(entry.key)
        fallen = {key for key, stands in _settled(undoers).items() if not stands}
        counted = (one for one in told if one.key not in fallen and not isinstance(one.event, Undone))
        return sorted(counted, key=lambda entry: entry.place)


def _settled(undoers: dict[str, list[str]]) -> dict[str, bool]:
    """Whether each entry that somebody undid, or undoes, stands: from those that nobody undid on."""
    undecided = {*undoers, *(key for keys in undoers.values() for key in keys)}
    stands = {key: True for key in undecided if key not in undoers}
    undecided -= stands.keys()
    while undecided:
        now = {key: _decided(undoers[key], stands) for key in undecided}
        found = {key: stand for key, stand in now.items() if stand is not None}
        if not found:
            return stands | dict.fromkeys(undecided, False)
        stands |= found
        undecided -= found.keys()
    return stands


def _decided(undoers: list[str], stands: dict[str, bool]) -> bool | None:
    """Whether an entry stands, by those who undo it; None while one of them is undecided and none stands."""
    if any(stands.get(key) for key in undoers):
        return False
    return True if all(key in stands for key in undoers) else None
