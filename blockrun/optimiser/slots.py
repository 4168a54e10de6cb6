"""The days cut into stretches that matter to a mould: poured by then, stripped a day sooner.

Early in a day a pour ripens in time to be stripped, or refilled, a day sooner than a later pour.
A slot is a stretch of a day within which no such difference falls. All counting is by slots.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.reach import Reach

_LEAST_APART = 25
NEVER = 1 << 30
"""The slot of what does not come to pass in the days of the problem."""


@dataclass(frozen=True)
class Stretch:
    """What ends in minutes ``first`` to ``last``, both included, of the day at position ``day``."""

    day: int
    first: int
    last: int


class Slots:
    """All slots of a problem in order, and which slot a minute lies in."""

    def __init__(self, problem: Problem, reach: Reach, most_a_day: int) -> None:
        self._problem, self._reach, self._most_a_day = problem, reach, most_a_day
        self.all: list[Stretch] = []
        self.of_day: list[range] = []
        self._refills: dict[int, set[int]] = {}
        for day in range(len(problem.days)):
            self._add_day(day)
        self._lasts = [slot.last for slot in self.all]

    def _add_day(self, day: int) -> None:
        midnight = self._problem.days[day].number * MINUTES_A_DAY
        edges = [midnight, *self._cuts(day), midnight + MINUTES_A_DAY]
        begin = len(self.all)
        self.all += [Stretch(day, first, end - 1) for first, end in pairwise(edges)]
        self.of_day.append(range(begin, len(self.all)))

    def _cuts(self, day: int) -> list[int]:
        """Minutes at which something changes: a pour ends too late to be stripped as soon, or a refill comes in."""
        found: set[int] = set()
        earliest = NEVER
        last = self._problem.days[day].closes
        for kind in range(len(self._problem.moulds)):
            first = self.first_poured(kind, day)
            if first is not None:
                steps = {step for day_of in self._days_of(kind) for step in _steps(day_of, first, last)}
                self._note_refills(kind, [first, *steps])
                found |= steps
                earliest = min(earliest, first)
        found |= self._refills.get(self._problem.days[day].number, set())
        apart: list[int] = []
        for cut in sorted(cut for cut in found if cut > earliest):
            if not apart or cut - apart[-1] >= _LEAST_APART:
                apart.append(cut)
        return apart[: self._most_a_day - 1]

    def _note_refills(self, kind: int, poured: list[int]) -> None:
        """Remember when moulds poured then may be poured again: from that minute on, and not before."""
        for minute in poured:
            for base in (False, True):
                again = self._reach.poured_again(kind, minute, base=base)
                if again is not None:
                    self._refills.setdefault(again // MINUTES_A_DAY, set()).add(again)

    def _days_of(self, kind: int) -> list[Callable[[int], int]]:
        """For a pour's end, the days that decide its worth: stripped, and filled again."""
        reach = self._reach

        def day_of(minute: int | None) -> int:
            return NEVER if minute is None else minute // MINUTES_A_DAY

        days = [
            lambda poured: day_of(reach.stripped(kind, poured)),
            lambda poured: day_of(reach.poured_again(kind, poured, base=True)),
        ]
        if self._problem.moulds[kind].bases:
            days.append(lambda poured: day_of(reach.poured_again(kind, poured, base=False)))
        return days

    def first_poured(self, kind: int, day: int) -> int | None:
        """Earliest end of a pour into this kind begun on this day; ``None`` where none may begin."""
        on = self._problem.days[day]
        pour = self._reach.first_pour(kind, on.opens)
        if pour is None or pour // MINUTES_A_DAY != on.number:
            return None
        return pour + self._reach.pours[kind].shortest_pour

    def day(self, day: int) -> Stretch:
        """All of the day at this position."""
        return self.stretch(self.of_day[day][0], self.of_day[day][-1])

    def stretch(self, first: int, last: int) -> Stretch:
        """What lies from one slot to another of the same day."""
        return Stretch(self.all[first].day, self.all[first].first, self.all[last].last)

    def index(self, minute: int | None) -> int:
        """The slot a minute lies in, or the first after it; ``NEVER`` past the horizon."""
        if minute is None:
            return NEVER
        found = bisect_right(self._lasts, minute - 1)
        return found if found < len(self.all) else NEVER


def _steps(day_of: Callable[[int], int], first: int, last: int) -> list[int]:
    """Minutes after ``first``, up to ``last``, at which a function that only grows takes a greater value."""
    steps = []
    while day_of(first) != day_of(last):
        low, high = first, last
        while low + 1 < high:
            middle = (low + high) // 2
            low, high = (middle, high) if day_of(middle) == day_of(first) else (low, middle)
        steps.append(high)
        first = high
    return steps
