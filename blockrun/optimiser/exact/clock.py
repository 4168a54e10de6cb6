"""Minutes at which tasks may begin, over all days at once."""

from __future__ import annotations

from functools import cache

from ortools.sat.python import cp_model

from blockrun.optimiser.crew import batch_starts
from blockrun.optimiser.problem import MINUTES_A_DAY, Day, Load, Problem

_FOR_EVER = 1 << 20


class Clock:
    """Working minutes of a problem; ``days`` are those up to a position, ``pour_days`` those of them for pouring."""

    def __init__(self, problem: Problem, last: int) -> None:
        self.problem = problem
        self.days = problem.days[: last + 1]
        self.pour_days = pour_days(problem, last)
        self.opens, self.closes = problem.days[0].opens, problem.days[-1].closes
        self.starts, self.batch_starts = cache(self._starts), cache(self._batch_starts)

    @property
    def numbers(self) -> cp_model.Domain:
        """Of the days for pouring."""
        return cp_model.Domain.from_values([day.number for day in self.pour_days])

    def _starts(self, length: int) -> cp_model.Domain:
        """From these a task of a length lies in one window."""
        spans = [(start, end - length) for start, end in self.problem.windows if end - start >= length]
        return _domain(spans)

    def _batch_starts(self, load: Load) -> cp_model.Domain:
        """From these a batch lies in one window, its crew is there and its foam goes in in time."""
        return _domain([span for day in self.pour_days for span in batch_starts(day, load)])

    def leaves_rack(self) -> cp_model.Domain:
        """At these a block may leave the rack: working minutes, and all after the last that is known."""
        windows = (*self.problem.windows, *self.problem.later)
        after = windows[-1][1]
        return _domain([*((start, end - 1) for start, end in windows), (after, after + _FOR_EVER)])

    def pours(self, load: Load) -> list[tuple[int, int]]:
        """First and last minutes, both allowed, at which the pour of a batch may end."""
        return [
            (first + load.to_poured, last + load.to_poured)
            for day in self.pour_days
            for first, last in batch_starts(day, load)
        ]


def pour_days(problem: Problem, last: int) -> tuple[Day, ...]:
    """Days up to a position with time for a batch, some cement, and no frost but for test cubes."""
    return tuple(
        day
        for day in problem.days[: last + 1]
        if (int(problem.clear_until[day.number]) >= day.number or problem.cubes is not None)
        and problem.cement.by(day.number) > 0
        and any(batch_starts(day, load) for load in problem.loads)
    )


def midnight_after(day: int) -> int:
    """First minute of the day after the one of a number."""
    return (day + 1) * MINUTES_A_DAY


def _domain(spans: list[tuple[int, int]]) -> cp_model.Domain:
    return cp_model.Domain.from_intervals([list(span) for span in spans])
