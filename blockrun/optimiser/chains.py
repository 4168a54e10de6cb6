"""How many turns moulds can begin: on a day, and in every run of days.

A mould refilled as soon as ever it can be drifts through the clock, so over some days it makes fewer
turns than the days one by one would allow.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from blockrun.optimiser.problem import Problem
from blockrun.optimiser.reach import Reach
from blockrun.optimiser.standing import busy_until, of_use
from blockrun.optimiser.state import State

_CHAIN_TURNS = 6
_CHAIN_DAYS = 45


class Chains:
    """Chains of earliest refills, kept."""

    def __init__(self, problem: Problem, reach: Reach) -> None:
        self.problem, self.reach = problem, reach
        self._chain = cache(self._chain_from)

    def turns_on(self, kind: int, day: int) -> int:
        """Most turns of a kind begun on one day."""
        number = self.problem.days[day].number
        mould = self.problem.moulds[kind]
        most = mould.count * sum(on == number for on in self._chain(kind, day, False))
        if mould.bases:
            most = min(most, mould.bases * sum(on == number for on in self._chain(kind, day, True)))
        return most

    def _chain_from(self, kind: int, day: int, base: bool) -> tuple[int, ...]:
        days = self.problem.days
        until = days[min(day + _CHAIN_DAYS, len(days) - 1)].number
        base = base or not self.problem.moulds[kind].bases
        return tuple(self.reach.chain(kind, self.problem.days[day].opens, base=base, until=until))

    def rows(self, kind: int, state: State, last: int) -> Iterator[tuple[range, int]]:
        """(Days, most turns begun on them): every run of days that holds fewer turns than a longer one."""
        mould = self.problem.moulds[kind]
        for base in (False, True) if mould.bases else (True,):
            units = mould.bases if base and mould.bases else mould.count
            yield from self._rows_from_now(kind, state, last, base=base)
            for day in range(state.day + 1, last + 1):
                chain = self._chain(kind, day, base)
                for turns, begun in enumerate(chain[: _CHAIN_TURNS + 1]):
                    end = self.problem.day_index[begun] - 1
                    if turns and end >= day:
                        yield range(day, min(end, last) + 1), units * turns
                    if end >= last:
                        break

    def _rows_from_now(self, kind: int, state: State, last: int, *, base: bool) -> Iterator[tuple[range, int]]:
        until, now = self.problem.days[last].number, self.problem.days[state.day].opens
        busy = busy_until(self.reach, kind, state, now, base=base)
        mould = self.problem.moulds[kind]
        units = mould.bases if base and mould.bases else mould.count
        again = of_use(busy, len(busy) - units)
        free = [now] * (units - len(busy)) + [minute for minute in again if minute is not None]
        begun = [
            self.problem.day_index[number]
            for minute in free
            for number in self.reach.chain(kind, minute, base=base, until=until)
        ]
        for day in range(state.day, last + 1):
            if day == last or day + 1 in begun:
                yield range(state.day, day + 1), sum(on <= day for on in begun)
