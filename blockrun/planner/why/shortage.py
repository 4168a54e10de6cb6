"""How many blocks of a goal cannot be had, whatever is done: by arithmetic first, then by counting.

What it says is proved: never more than any plan lacks. Nought says only that nothing is proved.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.curve import Curve
from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.late_strips import off_rack_by
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import State
from blockrun.planner.why.goals import Goal
from blockrun.planner.why.ground import most_off_the_rack

_WORK = 1.0
"""Work a count is worth."""


@dataclass(frozen=True)
class Shortage:
    """What is short of goals in one problem, its rules relaxed or not."""

    problem: Problem
    effort: Effort
    _counted: dict[Goal, int] = field(default_factory=dict, compare=False)

    @cached_property
    def limits(self) -> Limits:
        """Limits of the problem, whatever the goal."""
        return Limits(self.problem)

    def alone(self, goal: Goal) -> dict[str, int]:
        """Blocks short were but one thing limited, as ``Curve.late_alone`` names them; of goals to be ready."""
        return {**self._curve(goal).late_alone, "stack": self._by_stack(goal)}

    def by_arithmetic(self, goal: Goal) -> int:
        """Blocks short by arithmetic alone; of goals to be poured, one where there are any."""
        if not goal.blocks:
            return 0
        last = self.last_pour(goal)
        if last is None:
            return goal.blocks
        if goal.ready:
            return max(self._curve(goal).late, self._by_racks(goal), self._by_stack(goal))
        finish = Curve(goal.of(self.problem), self.limits).finish
        return int(finish > last or (last == len(self.problem.days) - 1 and self._counts(goal) > 0))

    def _curve(self, goal: Goal) -> Curve:
        """With days no further than the goal's, a block that is short is one block-day late."""
        return Curve(replace(goal.of(self.problem), horizon=goal.day + 1), self.limits)

    def _by_racks(self, goal: Goal) -> int:
        """Blocks short of a place: a block that is ready has lain on one for its time, one after the other on each."""
        problem, reach = self.problem, self.limits.reach
        if not problem.rack_for:
            return 0
        pours = {kind: reach.first_pour(kind, problem.days[0].opens) for kind in range(len(problem.moulds))}
        strips = [
            reach.stripped(kind, at + reach.pours[kind].shortest_pour) for kind, at in pours.items() if at is not None
        ]
        first = min((at for at in strips if at is not None), default=problem.horizon * MINUTES_A_DAY)
        last = (goal.day + 1) * MINUTES_A_DAY - 1 - problem.rack_for
        return max(0, goal.blocks - problem.places * max(0, (last - first) // problem.rack_for + 1))

    def _by_stack(self, goal: Goal) -> int:
        """Blocks short of ground to stand on when they come off the rack."""
        return goal.blocks - most_off_the_rack(self.problem, goal)

    def of(self, goal: Goal) -> int:
        """Blocks that are short in every plan."""
        return self.by_arithmetic(goal) or self._counts(goal)

    def at_most(self, goal: Goal) -> int:
        """Blocks of a goal that can be had at the most, by arithmetic and by counting."""
        return goal.blocks - max(self.by_arithmetic(goal), self._counts(goal))

    def last_pour(self, goal: Goal) -> int | None:
        """Position of the last working day on which pouring is of use for a goal."""
        if goal.ready:
            ready = self.limits.when.ready_from
            return max((day for day, on in enumerate(ready) if on <= goal.day), default=None)
        return max((at for at, day in enumerate(self.problem.days) if day.number <= goal.day), default=None)

    def _last_strip(self, goal: Goal) -> int:
        """Position of the last working day on which what is stripped is off the rack by the day of a goal."""
        leave = (self.problem.leaves_rack(day.opens) // MINUTES_A_DAY for day in self.problem.days)
        return max((at for at, off_rack in enumerate(leave) if off_rack <= goal.day), default=0)

    def _counts(self, goal: Goal) -> int:
        if goal not in self._counted:
            self._counted[goal] = self._count(goal)
        return self._counted[goal]

    def _count(self, goal: Goal) -> int:
        """Fewest blocks left over by counts, which relax the minutes."""
        last = self.last_pour(goal)
        if last is None:
            return goal.blocks
        if goal.ready and self.problem.stack is not None:
            last = max(last, self._last_strip(goal))
        when = self.limits.when
        counts = Counts(goal.laid_in(self.problem), self.limits, when, State(), last, overflow=True)
        if goal.ready:
            for slot in counts.pour_slots:
                for (kind, _), number in counts.filled[slot].items():
                    if when.ready_day(kind, slot) > goal.day:
                        counts.model.add(number == 0)
            if self.problem.stack is not None:
                off_rack = off_rack_by(counts, goal.day)
                counts.model.add(off_rack + sum(counts.later.values()) >= goal.blocks)
        counts.model.minimize(sum(counts.later.values()))
        return max(0, run(counts.model, self.effort.of(_WORK)).bound)
