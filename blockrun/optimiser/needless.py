"""Batches that a finished plan can do without: a slab poured later may have given all that one of them was for."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import replace

from blockrun.optimiser.cubes import owed
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.score import score
from blockrun.optimiser.state import Batch, State, Turn


def without_needless(problem: Problem, state: State) -> State:
    """The plan without batches all of whose blocks are to spare; taking work out of a plan leaves it a plan.

    Either of two batches may be the one to spare: those poured last and those ready last are tried first.
    """
    if not problem.slabs:
        return state
    ready = _ready(problem, state)
    tried = (
        _without(problem, state, sorted(state.batches, key=lambda batch: -batch.start)),
        _without(problem, state, sorted(state.batches, key=lambda batch: (-ready[id(batch)], -batch.start))),
    )
    # less is made without a batch, so that later sets of test cubes are due on other days
    found = [plan for each in tried if (plan := _with_cubes_as_due(problem, each)) is not None]
    return min(found, key=lambda plan: score(problem, plan), default=state)


def _with_cubes_as_due(problem: Problem, state: State) -> State | None:
    """The plan with each set of test cubes on the day it is due; ``None`` where no batch of that day has room."""
    if problem.cubes is None:
        return state
    days: dict[int, list[Batch]] = defaultdict(list)
    for batch in state.batches:
        days[batch.start // MINUTES_A_DAY].append(batch)
    made: list[Batch] = []
    for _, of_day in sorted(days.items()):
        given = _given_on(problem, of_day, owed(problem, State(0, [], made)))
        if given is None:
            return None
        made += given
    if [batch.cubes for batch in made] == [batch.cubes for batch in state.batches]:
        return state
    same = {
        id(batch): new for batch, new in zip((b for _, day in sorted(days.items()) for b in day), made, strict=True)
    }
    turns = [replace(turn, fills=[(number, same[id(batch)]) for number, batch in turn.fills]) for turn in state.turns]
    return replace(state, turns=turns, batches=[same[id(batch)] for batch in state.batches])


def _given_on(problem: Problem, of_day: list[Batch], due: dict[int, int]) -> list[Batch] | None:
    """Batches of a day with the sets that are due and no others: those that gave one before give it first."""
    given = {id(batch): replace(batch, cubes=0) for batch in of_day}
    for mix in {batch.load.mix for batch in of_day} & due.keys():
        for batch in sorted(of_day, key=lambda batch: not batch.cubes):
            poured = sum(problem.castings[number].volume * count for number, count in batch.content.items())
            if batch.load.mix == mix and poured + due[mix] <= batch.load.room:
                given[id(batch)] = replace(batch, cubes=due[mix])
                break
        else:
            return None
    return list(given.values())


def _ready(problem: Problem, state: State) -> dict[int, int]:
    """Minute by which all blocks of a batch may be laid, by the batch."""
    found: dict[int, int] = {}
    for turn in state.turns:
        assert turn.strip is not None
        for _, batch in turn.fills:
            at = problem.ready(batch.pour_to, turn.strip.end)
            found[id(batch)] = max(at, found.get(id(batch), 0))
    return found


def _without(problem: Problem, state: State, in_turn: list[Batch]) -> State:
    """The plan without what is to spare, batches looked at in turn."""
    spare = Counter[int]()
    for batch in state.batches:
        spare.update(_given(problem, batch))
    spare.subtract({number: block.demand for number, block in enumerate(problem.formats)})
    kept = []
    for batch in in_turn:
        given = _given(problem, batch)
        if not batch.cubes and all(count <= spare[block] for block, count in given.items()):
            spare.subtract(given)
        else:
            kept.append(batch)
    return _only(problem, state, [batch for batch in state.batches if batch in kept])


def _given(problem: Problem, batch: Batch) -> Counter[int]:
    """Blocks of each format that come of a batch."""
    found = Counter[int]()
    for number, count in batch.content.items():
        for block, each in problem.castings[number].gives:
            found[block] += count * each
    return found


def _only(problem: Problem, state: State, batches: list[Batch]) -> State:
    """What is left with these batches alone."""
    turns: list[Turn] = []
    for turn in state.turns:
        fills = [(number, batch) for number, batch in turn.fills if batch in batches]
        if fills:
            blocks = sum(problem.castings[number].blocks for number, _ in fills)
            turns.append(replace(turn, fills=fills, blocks=blocks))
    return replace(state, turns=turns, batches=batches)
