"""A plan that is known, as values of the variables of a whole one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import zip_longest

from ortools.sat.python import cp_model

from blockrun.optimiser.exact.turns import Turn as Slot
from blockrun.optimiser.exact.whole import Whole
from blockrun.optimiser.state import Batch, State, Turn

Known = tuple[cp_model.IntVar, int]


def poured(whole: Whole, state: State) -> Iterator[Known]:
    """What a finished plan pours, when and into which turns."""
    batches = sorted(state.batches, key=lambda batch: batch.start)
    place = {id(batch): number for number, batch in enumerate(batches)}
    for number, var in enumerate(whole.batches.all):
        yield var.used, number < len(batches)
        if number < len(batches):
            yield var.start, batches[number].start
            yield from _loads(whole, number, batches[number])
    for slot, turn in _turns(whole, state):
        yield slot.used, turn is not None
        if turn is not None:
            filled = Counter((place[id(batch)], casting) for casting, batch in turn.fills)
            yield from ((fill, filled[at]) for at, fill in slot.fills.items())


def emptied(whole: Whole, state: State) -> Iterator[Known]:
    """When it empties them."""
    for slot, turn in _turns(whole, state):
        if turn is not None:
            tasks = ((slot.sides, turn.sides), (slot.strip, turn.strip), (slot.clean, turn.clean))
            yield from ((var, span.start) for var, span in tasks if var is not None and span is not None)


def _turns(whole: Whole, state: State) -> Iterator[tuple[Slot, Turn | None]]:
    """Each turn that may begin, and which one it is."""
    for kind in range(len(whole.problem.moulds)):
        turns = sorted((turn for turn in state.turns if turn.mould == kind), key=lambda turn: turn.start)
        slots = [slot for slot in whole.turns.all if slot.kind == kind]
        yield from zip_longest(slots, turns)


def _loads(whole: Whole, number: int, batch: Batch) -> Iterator[Known]:
    for load, var in whole.batches.all[number].load.items():
        yield var, whole.batches.loads[load] == batch.load
    if number in whole.gives:
        yield whole.gives[number], batch.cubes
