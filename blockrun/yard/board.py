"""The minutes of one working day: who and what is free when.

Each line of the board is one whole number whose bits are minutes: a day is looked through, and written on, in a few
operations on such numbers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from blockrun.yard.setting import Load


def span(start: int, length: int) -> int:
    """The minutes from one on."""
    return ((1 << length) - 1) << start


def runs(free: int, length: int) -> int:
    """Minutes from which so many are free in a row."""
    have = 1
    while have < length and free:
        step = min(have, length - have)
        free &= free >> step
        have += step
    return free


def first(free: int, at: int) -> int | None:
    """The first minute from one on that is free."""
    later = free >> at
    return at + (later & -later).bit_length() - 1 if later else None


class Board:
    """What is free in one day, in minutes of the day.

    Parameters
    ----------
    windows : in which tasks may run.
    people : who are there.
    mixers : how many there are.
    """

    def __init__(self, windows: Iterable[tuple[int, int]], people: int, mixers: int) -> None:
        self._open = sum(span(start, end - start) for start, end in windows)
        # minutes in which at least 0, 1, 2, ... people are free
        self._people = [self._open] * (people + 1)
        self._mixers = [self._open] * mixers
        self._generator = self._open

    def find(self, length: int, at: int) -> int | None:
        """First minute from one on at which one person is free for so long, within one window."""
        if length == 0:
            return at
        return first(runs(self._people[1], length), at) if len(self._people) > 1 else None

    def take(self, start: int, length: int, people: int = 1) -> None:
        """Keep people busy."""
        free, busy = self._people, span(start, length)
        still = ~busy
        there = len(free)
        for least in range(1, there):
            more = free[least + people] & busy if least + people < there else 0
            free[least] = free[least] & still | more

    def chore(self, start: int, length: int, people: int) -> bool:
        """Do a chore at its time, if there are people for it."""
        able = people < len(self._people) and bool(runs(self._people[people], length) >> start & 1)
        if able:
            self.take(start, length, people)
        return able

    def find_batch(self, load: Load, at: int, last_foam: int, hot: int = 0) -> int | None:
        """First minute from one on at which a batch can begin: crew, mixer, generator, and the last foam of the day.

        ``hot`` are minutes at which its foam may not go in.
        """
        last = last_foam - load.slurry
        if load.crew >= len(self._people) or last < at:
            return None
        length = load.length
        able = runs(self._people[load.crew], length) & runs(self._mixers[load.mixer], length)
        if load.foam:
            able &= runs(self._generator, load.foam) >> load.slurry
        return first(able & span(0, last + 1) & ~(hot >> load.slurry), at)

    def take_batch(self, load: Load, start: int) -> None:
        """Keep the crew, the mixer and the generator busy with a batch."""
        self.take(start, load.length, load.crew)
        self._mixers[load.mixer] &= ~span(start, load.length)
        self._generator &= ~span(start + load.slurry, load.foam)
