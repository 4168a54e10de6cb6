"""Numbers that no plan passes, worked out once: how soon, how often, how much."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from blockrun.optimiser.chains import Chains
from blockrun.optimiser.mixing import Mixing
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.reach import Reach
from blockrun.optimiser.slots import Slots
from blockrun.optimiser.weighing import Weighing
from blockrun.optimiser.when import When

_LONGEST_TAIL = 15
_SLOTS_A_DAY = 5


class Limits:
    """Limits of a problem, each valid for every real plan."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.reach = Reach(problem)
        self.slots = Slots(problem, self.reach, _SLOTS_A_DAY)
        self.when = When(problem, self.reach, self.slots)
        self.chains = Chains(problem, self.reach)
        self.mixing = Mixing(problem)
        self.weighing = Weighing(problem)

    def tail(self, last: int) -> int:
        """Last day to follow: on to the coming frost, if one is near, for all must be stripped by then."""
        clear = int(self.problem.clear_until[self.problem.days[last].number])
        if clear >= self.problem.horizon - 1:
            return last
        end = last
        while end + 1 < len(self.problem.days) and self.problem.days[end + 1].number <= clear:
            end += 1
        return end if end - last <= _LONGEST_TAIL else last

    def last_days_before_frost(self, days: Iterable[int]) -> Iterator[int]:
        """Those of the days that are the last working day of a frost-free run."""
        for day in days:
            clear = int(self.problem.clear_until[self.problem.days[day].number])
            if clear < 0 or clear >= self.problem.horizon - 1:
                continue
            if day + 1 == len(self.problem.days) or self.problem.days[day + 1].number > clear:
                yield day
