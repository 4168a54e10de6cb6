"""How many blocks of a goal a small stack lets off the rack by its day, and how many have to stand there at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.optimiser.off_rack import OffRack, most_in

if TYPE_CHECKING:
    from blockrun.optimiser.problem import Problem
    from blockrun.planner.why.goals import Goal


@dataclass(frozen=True)
class AtOnce:
    """Blocks that would have to stand on the stack on one day, and how many of them there is room for.

    Attributes
    ----------
    day : its number: the last one, up to that of the goal, on which blocks may come off the rack.
    wanted, most : blocks.
    """

    day: int
    wanted: int
    most: int


def most_off_the_rack(problem: Problem, goal: Goal) -> int:
    """Blocks of a goal that have left the rack by its day, at the most: a full stack, and what was laid before.

    Of a day's blocks all have to stand on the stack: none is laid before the day it is needed on, nor before it is off
    the rack.
    """
    if problem.stack is None:
        return goal.blocks
    return OffRack(problem, problem.stack, goal.needs(problem)).by(goal.day, goal.counts)


def at_once(problem: Problem, goal: Goal) -> AtOnce:
    """What of a goal would stand on the stack together, were all of it there in time."""
    assert problem.stack is not None
    off_rack = OffRack(problem, problem.stack, goal.needs(problem))
    leaving = off_rack.last_day(goal.day)
    day = goal.day if leaving is None else leaving
    blocks = [count - gone for count, gone in zip(goal.counts, off_rack.needed_before(day), strict=True)]
    return AtOnce(day, sum(blocks), most_in(problem.stack, blocks))
