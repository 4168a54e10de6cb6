"""When what stands in the yard can be stripped and is free, at the soonest."""

from __future__ import annotations

from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State, Turn


def strip_from(problem: Problem, turn: Turn, now: int) -> int | None:
    """Earliest end of stripping a turn that stands, from minute ``now`` on."""
    mould = problem.moulds[turn.mould]
    ripe = int(problem.ripe_strip[turn.poured])
    if ripe < 0:
        return None
    if mould.bases and turn.sides is None:
        free = sides_from(problem, turn, now)
        if free is None:
            return None
        ripe = max(ripe, free)
    start = problem.fit(max(now, ripe), mould.strip + problem.move[turn.blocks])
    return None if start is None else start + mould.strip


def sides_from(problem: Problem, turn: Turn, now: int) -> int | None:
    """Earliest minute the sides of a turn that stands on a base are free."""
    if turn.sides is not None:
        return turn.sides.end
    table = problem.ripe_sides[turn.mould]
    if table is None or table[turn.poured] < 0:
        return None
    sides = problem.moulds[turn.mould].sides
    start = problem.fit(max(now, int(table[turn.poured])), sides)
    return None if start is None else start + sides


def busy_until(problem: Problem, kind: int, state: State, now: int, *, base: bool) -> list[int | None]:
    """Earliest minute each busy mould of a kind is free; ``None`` past the horizon.

    With ``base`` the whole mould, or its base, is meant, else its sides.
    """
    turns = [turn for turn in state.open_turns if turn.mould == kind]
    if base:
        return [mould_from(problem, turn, now) for turn in turns]
    return [sides_from(problem, turn, now) for turn in turns if turn.sides is None and turn.strip is None]


def mould_from(problem: Problem, turn: Turn, now: int) -> int | None:
    """Earliest minute the whole mould, or the base, of a turn is clean again."""
    stripped = turn.strip.end if turn.strip is not None else strip_from(problem, turn, now)
    clean = problem.moulds[turn.mould].clean
    start = None if stripped is None else problem.fit(max(now, stripped), clean)
    return None if start is None else start + clean
