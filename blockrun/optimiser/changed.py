"""From which morning on a plan must be made anew, once something about its problem has changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from blockrun.optimiser.problem import MINUTES_A_DAY, Minutes, Problem, Supply
from blockrun.optimiser.stacked import Stacked
from blockrun.optimiser.state import State, morning

_BY_TIME = {"days", "horizon", "ripe_strip", "ripe_sides", "clear_until", "cement", "agent", "later", "ripe_lay"}
_NEEDS = "formats"


@dataclass(frozen=True)
class Last:
    """The problem of the last answer, and its plan."""

    problem: Problem
    state: State


def kept(last: Last, now: Problem) -> State | None:
    """The yard on the morning of the first change, as the last plan has it; ``None`` where nothing of it can stay."""
    number = first_change(last.problem, now)
    position = None if number is None else next((at for at, day in enumerate(now.days) if day.number >= number), None)
    if number is None or not position:
        return None
    state = morning(last.state, number, position)
    return state if state.batches and _has_room(now, state) else None


def _has_room(now: Problem, state: State) -> bool:
    """Whether all that was stripped stands on the stack: with a day more to work it comes there sooner."""
    return now.stack is None or Stacked.of(now, now.stack, state.turns).fits()


def first_change(before: Problem, now: Problem) -> int | None:
    """Number of the first day on which anything may have to be done differently.

    Days, air, supplies and need dates may differ; ``None`` where anything else does.
    """
    alike = (field.name for field in fields(Problem) if field.init and field.name not in _BY_TIME | {_NEEDS})
    if any(getattr(before, name) != getattr(now, name) for name in alike) or _shapes(before) != _shapes(now):
        return None
    numbers = [_first_other_day(before, now), _first_other_night(before.clear_until, now.clear_until)]
    for old, new in zip(_tables(before), _tables(now), strict=True):
        numbers.append(_first_other(old, new) // MINUTES_A_DAY)
    numbers += [_first_other_supply(before.cement, now.cement), _first_other_supply(before.agent, now.agent)]
    return min(numbers)


def _shapes(problem: Problem) -> list[tuple[int, int, int]]:
    return [(block.mix, block.volume, block.demand) for block in problem.formats]


def _tables(problem: Problem) -> list[Minutes | None]:
    return [*problem.ripe_strip, *problem.ripe_sides, problem.ripe_lay]


def _first_other_day(before: Problem, now: Problem) -> int:
    """Number of the first day that is not the same, or worked in one of them alone."""
    for old, new in zip(before.days, now.days, strict=False):
        if old != new:
            return min(old.number, new.number)
    return min(before.horizon, now.horizon)


def _first_other(old: Minutes | None, new: Minutes | None) -> int:
    """Index from which two tables differ; that they know of no time past a horizon of their own is no difference."""
    if old is None or new is None:
        return 1 << 40 if old is new else 0
    shared = min(len(old), len(new))
    there = (old[:shared] >= 0) & (new[:shared] >= 0)
    other = np.flatnonzero((old[:shared] != new[:shared]) & there)
    return int(other[0]) if len(other) else 1 << 40


def _first_other_night(old: Minutes, new: Minutes) -> int:
    """Number of the first day before another frost than before, or in one."""
    shared = min(len(old), len(new))
    other = np.flatnonzero(old[:shared] != new[:shared])
    return int(other[0]) if len(other) else 1 << 40


def _first_other_supply(before: Supply, now: Supply) -> int:
    days: Sequence[int] = sorted({day for day, _ in (*before.steps, *now.steps)})
    return next((day for day in days if before.by(day) != now.by(day)), 1 << 40)
