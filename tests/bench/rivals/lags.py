"""How soon one thing can follow another, by days, for a mould that finds everybody free: what day counts reckon with.

A turn is taken as poured as early on its day as a batch can be, and each task as done at once, so that every lag is
the shortest that minutes allow.
"""

from __future__ import annotations

from functools import cached_property

from blockrun.optimiser.problem import MINUTES_A_DAY, Load, Problem

NEVER = 1 << 30


class Lags:
    """Shortest lags of one kind of mould; days are positions among the working days."""

    def __init__(self, problem: Problem, kind: int) -> None:
        self.problem, self.kind, self.mould = problem, kind, problem.moulds[kind]
        mixes = {problem.castings[casting].mix for casting in self.mould.casts}
        self.loads: list[Load] = [load for load in problem.loads if load.mix in mixes]

    @cached_property
    def strip_day(self) -> list[int]:
        """Position of the first day on which a turn poured on each day can be stripped."""
        return [self._position(minute) for minute in self._stripped]

    @cached_property
    def base_day(self) -> list[int]:
        """Position of the first day on which the mould, or its base, can be poured again."""
        return [self._refilled(self._after(minute, self.mould.clean)) for minute in self._stripped]

    @cached_property
    def sides_day(self) -> list[int]:
        """The same for its sides, where it has a base."""
        return [self._refilled(self._sides_off(day)) for day in range(len(self.problem.days))]

    @cached_property
    def ready_day(self) -> list[int]:
        """Number of the calendar day on which a block poured on each day can be laid."""
        return [
            self.problem.horizon if off is None else self.problem.ready(self._poured(day), off) // MINUTES_A_DAY
            for day, off in enumerate(self._stripped)
        ]

    @cached_property
    def frozen(self) -> list[bool]:
        """Whether a turn poured on each day would stand in the frost."""
        clear = self.problem.clear_until
        return [
            off is None or clear[day.number] < off // MINUTES_A_DAY
            for day, off in zip(self.problem.days, self._stripped, strict=True)
        ]

    @cached_property
    def _stripped(self) -> list[int | None]:
        return [self._strip_end(day) for day in range(len(self.problem.days))]

    def _strip_end(self, day: int) -> int | None:
        ripe = int(self.problem.ripe_strip[self.kind][self._poured(day)])
        sides = self._sides_off(day) if self.mould.bases else 0
        return None if ripe < 0 or sides is None else self._after(max(ripe, sides), self.mould.strip)

    def _sides_off(self, day: int) -> int | None:
        table = self.problem.ripe_sides[self.kind]
        ripe = -1 if table is None else int(table[self._poured(day)])
        return None if ripe < 0 else self._after(ripe, self.mould.sides)

    def _poured(self, day: int) -> int:
        return self.problem.days[day].opens + min(load.to_poured for load in self.loads)

    def _after(self, minute: int | None, length: int) -> int | None:
        start = None if minute is None else self.problem.fit(minute, length)
        return None if start is None else start + length

    def _refilled(self, free: int | None) -> int:
        """The day it is free, or the next where that is after the last pour of the day can begin."""
        if free is None:
            return NEVER
        position = self._position(free)
        if position == NEVER:
            return NEVER
        day = self.problem.days[position]
        latest = max(min(day.last_foam + load.foam, day.closes - load.wash - load.pour) for load in self.loads)
        return position if free <= latest else position + 1

    def _position(self, minute: int | None) -> int:
        return NEVER if minute is None else self.problem.day_index.get(minute // MINUTES_A_DAY, NEVER)


def latest(days: list[int], by: int) -> int:
    """Last day whose turns may have come so far by a day; -1 for none. Later turns never come sooner."""
    return max((day for day, reached in enumerate(days) if reached <= by), default=-1)
