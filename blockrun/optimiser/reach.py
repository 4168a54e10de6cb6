"""How soon a mould can be filled again, and so how often it can be filled: limits no crew can beat.

A later pour never strips earlier, so the chain of earliest refills from the first pour of a day is
the most turns one mould can make from that day on. Everything here leaves out people, racks and
other moulds, which only slow things down; that keeps it valid for every real plan.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from blockrun.optimiser.crew import batch_windows, starts_in
from blockrun.optimiser.frost import Frost
from blockrun.optimiser.problem import MINUTES_A_DAY, Minutes, Mould, Problem


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
        mixes = {problem.castings[number].mix for number in mould.casts}
        loads = [load for load in problem.loads if load.mix in mixes]
        spans: list[tuple[int, int]] = []
        for day in problem.days:
            windows = {crew: batch_windows(day, crew) for crew in {load.crew for load in loads}}
            found = {
                (first + load.to_pour, last + load.to_pour)
                for load in loads
                for first, last in starts_in(windows[load.crew], day, load)
            }
            for first, last in sorted(found):
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

    def stripped(
        self, mould: int, poured: int, *, blocks: int = 1, now: int = 0, sides_off: int | None = None
    ) -> int | None:
        """Earliest end of stripping a turn poured then, from minute ``now`` on; on a base its sides come off first.

        It has one block at the least; ``sides_off`` is when its sides came off, where they are off already.
        """
        kind, ripe = self.problem.moulds[mould], _ripe(self.problem.ripe_strip[mould], poured)
        sides = sides_off
        if kind.bases and sides is None:
            sides = self.sides_off(mould, poured, now=now)
        if ripe is None or (kind.bases and sides is None):
            return None
        # the move of the blocks follows at once, in the same window
        start = self.problem.fit(max(now, ripe, sides or 0), kind.strip + self.problem.move[blocks])
        return None if start is None else start + kind.strip

    def sides_off(self, mould: int, poured: int, *, now: int = 0) -> int | None:
        """Earliest minute the sides of a turn poured then are free again."""
        table, length = self.problem.ripe_sides[mould], self.problem.moulds[mould].sides
        ripe = None if table is None else _ripe(table, poured)
        start = None if ripe is None else self.problem.fit(max(now, ripe), length)
        return None if start is None else start + length

    def cleaned(self, mould: int, stripped: int | None, *, now: int = 0) -> int | None:
        """Earliest minute a mould, or base, stripped then is clean."""
        clean = self.problem.moulds[mould].clean
        start = None if stripped is None else self.problem.fit(max(now, stripped), clean)
        return None if start is None else start + clean

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

    def free_again(self, mould: int, poured: int, *, base: bool) -> int | None:
        """Earliest minute the mould (or its base, or without ``base`` its sides) is free after a turn poured then."""
        if self.problem.moulds[mould].bases and not base:
            return self.sides_off(mould, poured)
        return self.cleaned(mould, self.stripped(mould, poured))

    def poured_from(self, mould: int, free: int | None) -> int | None:
        """Earliest end of a pour into a mould somebody has set free at a minute, or never."""
        again = None if free is None else self.next_pour(mould, free)
        return None if again is None else again + self.pours[mould].shortest_pour

    def poured_again(self, mould: int, poured: int, *, base: bool) -> int | None:
        """Earliest end of a second pour into the mould, base or sides of a turn poured then."""
        return self.poured_from(mould, self.free_again(mould, poured, base=base))

    def chain(self, mould: int, at: int, *, base: bool, until: int) -> list[int]:
        """Day numbers of the most turns one mould free at ``at`` can begin, up to day ``until``."""
        days: list[int] = []
        pour = self.first_pour(mould, at)
        while pour is not None and pour // MINUTES_A_DAY <= until:
            days.append(pour // MINUTES_A_DAY)
            free = self.free_again(mould, pour + self.pours[mould].shortest_pour, base=base)
            pour = None if free is None else self.next_pour(mould, max(free, pour + 1))
        return days


def _ripe(table: Minutes, poured: int) -> int | None:
    """Minute from which a turn poured then is ripe; ``None`` past the horizon."""
    ripe = int(table[poured]) if poured < len(table) else -1
    return ripe if ripe >= 0 else None
