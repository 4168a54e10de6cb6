"""Which goals can be reached: plans are played, of what they ask alone, until one has all of it in time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import takewhile
from typing import Final

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tried, Tries
from blockrun.optimiser.state import State
from blockrun.planner.why.goals import Goal, needed_for

_PLAYS: Final = 60
_BLOCKS_PLAYED: Final = 15_000
"""Plays that go on from the first ones, at the most so many, and of so many blocks: a second of work, or two."""


def reached_of(problem: Problem, goals: Sequence[Goal], stop: Callable[[], bool]) -> int:
    """How many goals, from the first to one after it, a plan was found to have: all blocks of each by its day.

    That no plan was found to have more proves nothing.
    """
    asked = needed_for(problem, goals)
    reached = 0

    def hear(tried: Tried) -> None:
        nonlocal reached
        in_time = (
            _all_ready(asked, goal, tried.state) if goal.ready else tried.score.stages[1] <= goal.day for goal in goals
        )
        reached = max(reached, sum(1 for _ in takewhile(bool, in_time)))

    tries = Tries(Ground(asked, Limits(asked)), seed=0, stop=lambda: reached == len(goals) or stop())
    known = []
    for tried in tries.openings():
        known.append(tried)
        hear(tried)
    if known:
        blocks = sum(block.demand for block in asked.formats)
        tries.improved(known, min(_PLAYS, _BLOCKS_PLAYED // blocks), "a way out", hear)
    return reached


def _all_ready(problem: Problem, goal: Goal, state: State) -> bool:
    """Whether all blocks of a goal are ready by its day; some may be needed sooner, and be late."""
    ready = Counter[int]()
    for turn in state.turns:
        assert turn.strip is not None
        for place, (number, _) in enumerate(turn.fills):
            if turn.ready(problem, place, turn.strip.end) // MINUTES_A_DAY <= goal.day:
                ready.update(dict(problem.castings[number].gives))
    return all(ready[block] >= count for block, count in enumerate(goal.counts))
