"""Whether a goal can be reached: plans are played, of what it asks alone, until one has all of it in time."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tried, Tries
from blockrun.planner.why.goals import Goal

_PLAYS: Final = 60
_BLOCKS_PLAYED: Final = 15_000
"""Plays that go on from the first ones, at the most so many, and of so many blocks: a second of work, or two."""


def can_be_had(problem: Problem, goal: Goal, stop: Callable[[], bool]) -> bool:
    """Whether a plan was found that has all blocks of a goal by its day; that none was found proves nothing."""
    asked = goal.of(problem)
    reached: list[Tried] = []

    def hear(tried: Tried) -> None:
        late, finish, *_ = tried.score.stages
        if not late if goal.ready else finish <= goal.day:
            reached.append(tried)

    tries = Tries(Ground(asked, Limits(asked)), seed=0, stop=lambda: bool(reached) or stop())
    known = []
    for tried in tries.openings():
        known.append(tried)
        hear(tried)
    if known:
        tries.improved(known, min(_PLAYS, _BLOCKS_PLAYED // goal.blocks), "a way out", hear)
    return bool(reached)
