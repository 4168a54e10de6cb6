"""Batches that a finished plan can do without: a slab poured later may have given all that one of them was for."""

from __future__ import annotations

from dataclasses import replace

from blockrun.optimiser.cubes import each_lot_has_its_set
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.score import score
from blockrun.optimiser.state import Batch, State, Turn, given


def without_needless(problem: Problem, state: State) -> State:
    """The plan without batches all of whose blocks are to spare; taking work out of a plan leaves it a plan.

    What was made before the plan stays as it is.

    Either of two batches may be the one to spare: those poured last and those ready last are tried first.
    """
    if not problem.slabs:
        return state
    blocks = {id(batch): given(problem, batch) for batch in state.batches}
    spare = _spare(problem, blocks)
    if not any(_may_go(problem, batch, blocks[id(batch)], spare) for batch in state.batches):
        return state
    ready = _ready(problem, state)
    poured_last = sorted(state.batches, key=lambda batch: -batch.start)
    ready_last = sorted(state.batches, key=lambda batch: (-ready.get(id(batch), 0), -batch.start))
    kept, other = _kept(problem, state, poured_last, blocks), _kept(problem, state, ready_last, blocks)
    plan = _only(problem, state, kept)
    if other == kept:
        return plan
    return min(plan, _only(problem, state, other), key=lambda plan: score(problem, plan))


def _ready(problem: Problem, state: State) -> dict[int, int]:
    """Minute by which all blocks of a batch may be laid, by the batch; not of those that give test cubes alone."""
    found: dict[int, int] = {}
    for turn in state.turns:
        assert turn.strip is not None
        for _, batch in turn.fills:
            at = problem.ready(batch.pour_to, turn.strip.end)
            found[id(batch)] = max(at, found.get(id(batch), 0))
    return found


def _kept(problem: Problem, state: State, in_turn: list[Batch], blocks: dict[int, dict[int, int]]) -> list[Batch]:
    """The batches without those to spare, looked at in turn; ``blocks`` are what each gives, by its id."""
    spare = _spare(problem, blocks)
    kept = list(state.batches)
    for batch in in_turn:
        of_batch = blocks[id(batch)]
        if _may_go(problem, batch, of_batch, spare):
            others = [other for other in kept if other is not batch]
            if each_lot_has_its_set(problem, others):
                for block, count in of_batch.items():
                    spare[block] -= count
                kept = others
    return kept


def _spare(problem: Problem, blocks: dict[int, dict[int, int]]) -> list[int]:
    """How many blocks of each format there are beyond those wanted."""
    spare = [-block.demand for block in problem.formats]
    for of_batch in blocks.values():
        for block, count in of_batch.items():
            spare[block] += count
    return spare


def _may_go(problem: Problem, batch: Batch, blocks: dict[int, int], spare: list[int]) -> bool:
    """Whether a batch is one of the plan, for blocks alone, and none of these is wanted."""
    if batch.start < problem.opens or batch.cubes:
        return False
    return all(count <= spare[block] for block, count in blocks.items())


def _only(problem: Problem, state: State, batches: list[Batch]) -> State:
    """What is left with these batches alone."""
    if len(batches) == len(state.batches):
        return state
    turns: list[Turn] = []
    kept = {id(batch) for batch in batches}
    for turn in state.turns:
        fills = [(number, batch) for number, batch in turn.fills if id(batch) in kept]
        if len(fills) == len(turn.fills):
            turns.append(turn)
        elif fills:
            blocks = sum(problem.castings[number].blocks for number, _ in fills)
            turns.append(replace(turn, fills=fills, blocks=blocks))
    return replace(state, turns=turns, batches=batches)
