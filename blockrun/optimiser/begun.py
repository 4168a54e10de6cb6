"""The yard that a plan goes on from, as it was found: rules that history broke are not held against it."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from blockrun.optimiser.cubes import sets_by
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.promise import deadline, promise
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Batch, State, Turn

_ALWAYS = 1 << 30


def settled(problem: Problem, begun: State) -> State:
    """The same yard: lots of cubes that are over owe no set, and what cannot be stripped before a frost is caught."""
    batches = _with_cubes(problem, begun.batches)
    same = {id(old): new for old, new in zip(begun.batches, batches, strict=True)}
    turns = [replace(turn, fills=[(number, same[id(batch)]) for number, batch in turn.fills]) for turn in begun.turns]
    state = State(0, turns, batches)
    for turn in _caught(problem, state):
        turn.caught = True
    return state


def _caught(problem: Problem, state: State) -> list[Turn]:
    """Turns for which there is no minute before the frost, those with the soonest frost stripped first."""
    limits = Limits(problem, state)
    if not limits.frost.ever:
        return []
    yard, today = Yard(Ground(problem, limits), state), problem.days[0].number
    found = [
        (by, turn.poured, place)
        for place, turn in enumerate(yard.turns)
        if not turn.done and (by := deadline(yard, turn, today, _ALWAYS)) is not None
    ]
    return [state.turns[place] for by, _, place in sorted(found) if not promise(yard, yard.turns[place], by)]


def _with_cubes(problem: Problem, batches: list[Batch]) -> list[Batch]:
    """The batches with as many sets as lots by volume have by now, neither fewer nor more, on the last of each mix."""
    cubes, made, given = problem.cubes, Counter[int](), Counter[int]()
    if cubes is None or not cubes.lots:
        return batches
    for batch in batches:
        made[batch.load.mix] += batch.load.cement
        given[batch.load.mix] += batch.cubes
    settled = list(batches)
    last = {batch.load.mix: place for place, batch in enumerate(batches)}
    for mix, place in last.items():
        least, most = sets_by(cubes.lots[mix], made[mix])
        more = max(least, min(most, given[mix])) - given[mix]
        settled[place] = replace(batches[place], cubes=batches[place].cubes + more)
    return settled
