"""Which goals can be reached: plans are played until one has all of it in time.

Of goals to be ready what they ask is played alone; a last pour is that of the whole order, and none that comes sooner
because blocks are late for it is of use.
"""

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


def reached_of(problem: Problem, goals: Sequence[Goal], stop: Callable[[], bool], most_late: int = 0) -> int:
    """How many goals, from the first to one after it, a plan was found to have: all blocks of each by its day.

    That no plan was found to have more proves nothing.

    Parameters
    ----------
    most_late : block-days by which a plan with a sooner last pour may be late.
    """
    asked = needed_for(problem, goals) if all(goal.ready for goal in goals) else problem
    reached = 0

    def hear(tried: Tried) -> None:
        nonlocal reached
        in_time = (
            _all_ready(asked, goal, tried.state)
            if goal.ready
            else tried.score.late <= most_late and tried.score.finish <= goal.day
            for goal in goals
        )
        reached = max(reached, sum(1 for _ in takewhile(bool, in_time)))

    _played(asked, hear, lambda: reached == len(goals) or stop())
    return reached


def least_late(problem: Problem, stop: Callable[[], bool]) -> int:
    """Fewest block-days late that a plan was found to have; there may be one with fewer."""
    found: list[int] = []
    _played(problem, lambda tried: found.append(tried.score.late), lambda: 0 in found or stop())
    return min(found, default=0)


def _played(asked: Problem, hear: Callable[[Tried], None], stop: Callable[[], bool]) -> None:
    tries = Tries(Ground(asked, Limits(asked)), seed=0, stop=stop)
    known = []
    for tried in tries.openings():
        known.append(tried)
        hear(tried)
    if known:
        blocks = sum(block.demand for block in asked.formats)
        tries.improved(known, min(_PLAYS, _BLOCKS_PLAYED // blocks), "a way out", hear)


def _all_ready(problem: Problem, goal: Goal, state: State) -> bool:
    """Whether all blocks of a goal are ready by its day; some may be needed sooner, and be late."""
    ready = Counter[int]()
    for turn in state.turns:
        assert turn.strip is not None
        for place, (number, _) in enumerate(turn.fills):
            if turn.ready(problem, place, turn.strip.end) // MINUTES_A_DAY <= goal.day:
                ready.update(dict(problem.castings[number].gives))
    return all(ready[block] >= count for block, count in enumerate(goal.counts))
