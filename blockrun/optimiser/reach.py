"""How soon a mould can be filled again, and so how often it can be filled: limits no crew can beat.

A later pour never strips earlier, so the chain of earliest refills from the first pour of a day is
the most turns one mould can make from that day on. Everything here leaves out people, racks and
other moulds, which only slow things down; that keeps it valid for every real plan.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from blockrun.optimiser.crew import batch_starts
from blockrun.optimiser.frost import Frost
from blockrun.optimiser.problem import MINUTES_A_DAY, Mould, Problem


@dataclass(frozen=True)
class PourTimes:
    """When a first block may be poured, over all days: ascending, separate (first, last) minutes.

    ``soonest`` is the shortest time from the start of a batch to that minute.
    """

    spans: tuple[tuple[int, int], ...]
    shortest_pour: int
    soonest: int
    least_crew: int

    @classmethod
    def of(cls, problem: Problem, mould: Mould) -> PourTimes:
        """For the mixes this mould casts, whatever the mixer."""
        mixes = {problem.formats[block].mix for block in mould.casts}
        loads = [load for load in problem.loads if load.mix in mixes]
        spans: list[tuple[int, int]] = []
        for day in problem.days:
            found = sorted(
                (first + load.to_pour, last + load.to_pour) for load in loads for first, last in batch_starts(day, load)
            )
            for first, last in found:
                if spans and first <= spans[-1][1] + 1:
                    spans[-1] = (spans[-1][0], max(spans[-1][1], last))
                else:
                    spans.append((first, last))
        return cls(
            tuple(spans),
            shortest_pour=min((load.pour for load in loads), default=0),
            soonest=min((load.to_pour for load in loads), default=0),
            least_crew=min((load.crew for load in loads), default=0),
        )

    def first_from(self, at: int) -> int | None:
        """First minute at or after ``at`` that is allowed."""
        index = bisect_right(self.spans, at - 1, key=lambda span: span[1])
        return max(at, self.spans[index][0]) if index < len(self.spans) else None


class Reach:
    """Earliest refills of each kind of mould, kept by minute so that chains are cheap to follow."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.frost = Frost(problem)
        self.pours = tuple(PourTimes.of(problem, mould) for mould in problem.moulds)

    def stripped(self, mould: int, poured: int) -> int | None:
        """Earliest end of stripping a turn poured then (its sides off first where it has a base)."""
        problem, kind = self.problem, self.problem.moulds[mould]
        ready = int(problem.ripe_strip[poured]) if poured < len(problem.ripe_strip) else None
        if ready is None or ready < 0:
            return None
        if kind.bases:
            sides = self.sides_off(mould, poured)
            if sides is None:
                return None
            ready = max(ready, sides)
        # the move of at least one block follows at once, in the same window
        start = problem.fit(ready, kind.strip + problem.move[1])
        return None if start is None else start + kind.strip

    def sides_off(self, mould: int, poured: int) -> int | None:
        """Earliest minute the sides are free again."""
        table = self.problem.ripe_sides[mould]
        if table is None or poured >= len(table) or table[poured] < 0:
            return None
        start = self.problem.fit(int(table[poured]), self.problem.moulds[mould].sides)
        return None if start is None else start + self.problem.moulds[mould].sides

    def frost_allows(self, mould: int, pour_from: int) -> bool:
        """Whether a turn poured then can be stripped before frost."""
        stripped = self.stripped(mould, pour_from + self.pours[mould].shortest_pour)
        return stripped is not None and self.frost.spares(pour_from // MINUTES_A_DAY, stripped // MINUTES_A_DAY)

    def last_poured(self, mould: int, day: int) -> int:
        """Latest minute at which a pour of the day at this position may end and still strip before the frost."""
        on = self.problem.days[day]
        first, last = on.opens, (on.number + 1) * MINUTES_A_DAY - 1
        if self.frost.before(on.number) is None:
            return last + 1
        while first < last:
            middle = (first + last + 1) // 2
            stripped = self.stripped(mould, middle)
            if stripped is not None and self.frost.spares(on.number, stripped // MINUTES_A_DAY):
                first = middle
            else:
                last = middle - 1
        return first

    def first_pour(self, mould: int, at: int) -> int | None:
        """First minute from ``at`` on at which a turn may begin in a mould that stands free, frost kept."""
        pour = self.pours[mould].first_from(at)
        while pour is not None and not self.frost_allows(mould, pour):
            if self.stripped(mould, pour + self.pours[mould].shortest_pour) is None:
                return None
            # a later pour of this day is no better: try the next day
            pour = self.pours[mould].first_from((pour // MINUTES_A_DAY + 1) * MINUTES_A_DAY)
        return pour

    def next_pour(self, mould: int, freed: int) -> int | None:
        """First minute at which a turn may begin in a mould somebody has just set free.

        Where a batch takes everybody there is, nobody frees a mould while it runs, so it begins after.
        """
        index = self.problem.day_index.get(freed // MINUTES_A_DAY)
        pours = self.pours[mould]
        alone = index is not None and self.problem.days[index].people <= pours.least_crew
        return self.first_pour(mould, freed + pours.soonest if alone else freed)

    def free_again(self, mould: int, pour_from: int, *, base: bool) -> int | None:
        """Earliest minute the mould (or its base) is free after a turn begun then."""
        poured = pour_from + self.pours[mould].shortest_pour
        kind = self.problem.moulds[mould]
        if kind.bases and not base:
            return self.sides_off(mould, poured)
        stripped = self.stripped(mould, poured)
        start = None if stripped is None else self.problem.fit(stripped, kind.clean)
        return None if start is None else start + kind.clean

    def chain(self, mould: int, at: int, *, base: bool, until: int) -> list[int]:
        """Day numbers of the most turns one mould free at ``at`` can begin, up to day ``until``."""
        days: list[int] = []
        pour = self.first_pour(mould, at)
        while pour is not None and pour // MINUTES_A_DAY <= until:
            days.append(pour // MINUTES_A_DAY)
            free = self.free_again(mould, pour, base=base)
            pour = None if free is None else self.next_pour(mould, max(free, pour + 1))
        return days
