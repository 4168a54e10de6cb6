"""What a day has by the minute: people, mixers and foam."""

from __future__ import annotations

from blockrun.optimiser.problem import Day, Load
from blockrun.optimiser.quick.minutes import first, span, starts

_ALWAYS = -1
Taken = tuple[list[int], list[int], int]


class Shift:
    """One working day; tasks lie in one window. ``possible`` is whether there are people for its chores."""

    def __init__(self, day: Day, n_mixers: int, *, chores: bool) -> None:
        self.day = day
        self._opens = day.opens
        self._windows = 0
        for start, end in day.windows:
            self._windows |= span(start - self._opens, end - self._opens)
        self._free = [self._windows] * day.people
        self._mixers = [_ALWAYS] * n_mixers
        self._foam = _ALWAYS
        self._starts: dict[int, int] = {}
        """Minutes at which batches may start, until more is taken: asked for all the time. By the id of a load, for
        those of a problem last as long as it."""
        self.possible = True
        for chore in day.chores if chores else ():
            self._chore(chore.start, chore.end, chore.people)

    def _chore(self, start: int, end: int, people: int) -> None:
        taken = span(start - self._opens, end - self._opens) & self._windows
        if taken & ~self._with(people):
            self.possible = False
        else:
            self.take(start, end, people)

    def _with(self, people: int) -> int:
        """Minutes at which so many people are free."""
        if not people:
            return self._windows
        return self._free[people - 1] if people <= len(self._free) else 0

    def first(self, at: int, length: int) -> int | None:
        """First minute at or after ``at`` from which one person has so many minutes in one window."""
        found = first(starts(self._with(1 if length else 0), length), at - self._opens)
        return None if found is None else self._opens + found

    def first_batch(self, load: Load, at: int) -> int | None:
        """First minute at or after ``at`` at which a batch may start."""
        if id(load) not in self._starts:
            self._starts[id(load)] = self._starts_of(load)
        found = first(self._starts[id(load)], at - self._opens)
        return None if found is None else self._opens + found

    def _starts_of(self, load: Load) -> int:
        last = self.day.last_foam - load.slurry - self._opens
        if last < 0:
            return 0
        may = starts(self._with(load.crew) & self._mixers[load.mixer], load.length)
        if len(self._mixers) > 1:
            may &= starts(self._foam, load.foam) >> load.slurry
        if self.day.hot:
            for hot, cool in self.day.too_hot(load):
                may &= ~span(max(0, hot - self._opens), cool - self._opens)
        return may & span(0, last + 1)

    def take(self, start: int, end: int, people: int = 1) -> None:
        """Keep people busy."""
        self._starts.clear()
        taken = span(start - self._opens, end - self._opens)
        for number, free in enumerate(self._free):
            with_more = self._free[number + people] if number + people < len(self._free) else 0
            self._free[number] = (free & ~taken) | (with_more & taken)

    def release(self, start: int, end: int) -> None:
        """Have one person free again who was busy."""
        self._starts.clear()
        taken = span(start - self._opens, end - self._opens)
        for number in reversed(range(1, len(self._free))):
            self._free[number] = (self._free[number] & ~taken) | (self._free[number - 1] & taken)
        self._free[0] |= taken

    def take_batch(self, load: Load, start: int) -> None:
        """Keep a mixer, its crew and for a while the foam generator busy."""
        self.take(start, start + load.length, load.crew)
        self._starts.clear()
        at = start - self._opens
        self._mixers[load.mixer] &= ~span(at, at + load.length)
        self._foam &= ~span(at + load.slurry, at + load.to_pour)

    def as_is(self) -> Taken:
        """What is taken now, to go back to."""
        return list(self._free), list(self._mixers), self._foam

    def back_to(self, taken: Taken) -> None:
        """Take no more than was taken then."""
        self._starts.clear()
        self._free, self._mixers, self._foam = taken
