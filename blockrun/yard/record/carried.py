"""Where every block is, carried forward through the entries of the journal as somebody types one thing after the other.

What is typed by its time needs one replay for all of it, not one for each: a state goes on from where it is, and begins
again only for what happened before that, or where an entry undoes another.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from itertools import takewhile

from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import Undone
from blockrun.yard.now import Clash, State, state_of
from blockrun.yard.now.replay import go_on


class Carried:
    """A state that goes forward.

    Parameters
    ----------
    entries : all there are.
    """

    def __init__(self, entries: Iterable[Entry]) -> None:
        self._entries = list(entries)
        self._begin()

    def _begin(self) -> None:
        self._standing = standing(self._entries)
        self._state, self._next = State(), 0

    def at(self, moment: datetime | None = None) -> State:
        """Where every block is at a moment, or after all entries; to look at until the next question."""
        if moment is not None and self._next and moment < self._standing[self._next - 1].happened:
            self._begin()
        while self._next < len(self._standing):
            entry = self._standing[self._next]
            if moment is not None and entry.happened > moment:
                break
            go_on(self._state, entry)
            self._next += 1
        return self._state

    @property
    def counted(self) -> list[Entry]:
        """What stands of the entries until the moment that was asked for last."""
        return self._standing[: self._next]

    def add(self, new: Sequence[Entry]) -> list[Clash]:
        """Let entries count that happened at one moment, and say what of them cannot have been: then none of them does.

        Parameters
        ----------
        new : in their order.
        """
        if any(isinstance(entry.event, Undone) for entry in new) or self._before_others(new):
            return self._add_anew(new)
        state = self.at(new[0].happened)
        before = len(state.clashes)
        for entry in new:
            go_on(state, entry)
        clashes = state.clashes[before:]
        if clashes:
            self._begin()
            return clashes
        self._entries += new
        self._standing[self._next : self._next] = new
        self._next += len(new)
        return []

    def _before_others(self, new: Sequence[Entry]) -> bool:
        """Whether they come before others of their minute: a clock may have been set back."""
        at = new[0].happened
        self.at(at)
        before = (self._standing[number] for number in range(self._next - 1, -1, -1))
        return any(one.place > new[0].place for one in takewhile(lambda one: one.happened == at, before))

    def _add_anew(self, new: Sequence[Entry]) -> list[Clash]:
        own = {entry.key for entry in new}
        clashes = [clash for clash in state_of([*self._entries, *new]).clashes if clash.entry.key in own]
        if not clashes:
            self._entries += new
        self._begin()
        return clashes


def clashes_since(before: Sequence[Entry], new: Sequence[Entry]) -> list[Clash]:
    """What else cannot have been, once further entries are there: of those that happened later, or whose past fell."""
    first = min(entry.happened for entry in new)
    undone = any(isinstance(entry.event, Undone) for entry in new)
    if not undone and all(entry.happened <= first for entry in before):
        return []
    there = {(clash.entry.key, clash.what) for clash in state_of(before).clashes}
    return [clash for clash in state_of([*before, *new]).clashes if (clash.entry.key, clash.what) not in there]
