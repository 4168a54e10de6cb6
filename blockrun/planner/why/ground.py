"""How many blocks of a goal a small stack lets off the rack by its day, and how many have to stand there at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.optimiser.problem import MINUTES_A_DAY

if TYPE_CHECKING:
    from blockrun.optimiser.problem import Problem, Stack
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
    if problem.stack is None or not goal.blocks:
        return goal.blocks
    full, gone = most_in(problem.stack, goal.counts), 0
    days = _days_off_the_rack(problem, goal.day)
    for day in days:
        gone = min(gone, sum(_needed_before(problem, goal, day))) + full
    if not days:
        return 0
    last = at_once(problem, goal)
    return min(gone, goal.blocks, goal.blocks - last.wanted + last.most)


def at_once(problem: Problem, goal: Goal) -> AtOnce:
    """What of a goal would stand on the stack together, were all of it there in time."""
    assert problem.stack is not None
    day = max(_days_off_the_rack(problem, goal.day), default=goal.day)
    before = _needed_before(problem, goal, day)
    blocks = [count - gone for count, gone in zip(goal.counts, before, strict=True)]
    return AtOnce(day, sum(blocks), most_in(problem.stack, blocks))


def most_in(stack: Stack, blocks: Sequence[int]) -> int:
    """Of so many blocks of each format, those that a stack holds at the most: whole columns first."""
    whole = sum(count // stack.layers for count in blocks)
    begun = sorted((count % stack.layers for count in blocks), reverse=True)
    return stack.layers * min(whole, stack.places) + sum(begun[: max(0, stack.places - whole)])


def _needed_before(problem: Problem, goal: Goal, day: int) -> list[int]:
    """Blocks of each format that may have been laid before a day."""
    return [sum(count for due, count in needs if due < day) for needs in goal.needs(problem)]


def _days_off_the_rack(problem: Problem, by: int) -> list[int]:
    """Days on which blocks may come off a rack, ascending: those worked, and after the last one known every day."""
    worked = {day.number for day in problem.days} | {start // MINUTES_A_DAY for start, _ in problem.later}
    return sorted({day for day in worked if day <= by} | {*range(max(worked) + 1, by + 1)})
