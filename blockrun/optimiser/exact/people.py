"""People: never more busy than there are, chores included."""

from __future__ import annotations

from ortools.sat.python import cp_model

from blockrun.optimiser.exact.clock import Clock
from blockrun.optimiser.problem import Day


class People:
    """All people of all days; tell it of tasks, then :meth:`share`."""

    def __init__(self, model: cp_model.CpModel, clock: Clock) -> None:
        self.model, self.clock = model, clock
        self._busy: list[tuple[cp_model.IntervalVar, int]] = []

    def busy(self, task: cp_model.IntervalVar, people: int) -> None:
        """So many people are taken by a task."""
        self._busy.append((task, people))

    def share(self, first: cp_model.IntVar, last: cp_model.IntVar) -> None:
        """Nobody does two things at once; chores are done from the first day that is poured on to the last."""
        for day in self.clock.days:
            if day.chores:
                self._chores(day, first, last)
        days = self.clock.problem.days
        most = max(day.people for day in days)
        for day in days:
            if day.people < most:
                for start, end in day.windows:
                    self.busy(self.model.new_fixed_size_interval_var(start, end - start, "away"), most - day.people)
        self.model.add_cumulative([task for task, _ in self._busy], [people for _, people in self._busy], most)

    def _chores(self, day: Day, first: cp_model.IntVar, last: cp_model.IntVar) -> None:
        begun, still, done = (self.model.new_bool_var(f"{what} {day.number}") for what in ("begun", "still", "done"))
        self.model.add(first > day.number).only_enforce_if(begun.negated())
        self.model.add(last < day.number).only_enforce_if(still.negated())
        self.model.add_bool_or(done, begun.negated(), still.negated())
        for chore in day.chores:
            length = chore.end - chore.start
            task = self.model.new_optional_fixed_size_interval_var(chore.start, length, done, "chore")
            self.busy(task, chore.people)
