"""A plan that is known, as values of the variables of a whole one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from ortools.sat.python import cp_model

from blockrun.optimiser.exact.whole import Whole
from blockrun.optimiser.state import Batch, State, Turn

Known = tuple[cp_model.IntVar, int]


def known(whole: Whole, state: State) -> Iterator[Known]:
    """What a finished plan says of all that is decided; what follows from that is left out."""
    batches = sorted(state.batches, key=lambda batch: batch.start)
    place = {id(batch): number for number, batch in enumerate(batches)}
    for number, var in enumerate(whole.batches.all):
        yield var.used, number < len(batches)
        if number < len(batches):
            yield var.start, batches[number].start
            yield from _loads(whole, number, batches[number])
    for kind in range(len(whole.problem.moulds)):
        slots = [turn for turn in whole.turns.all if turn.kind == kind]
        turns = sorted((turn for turn in state.turns if turn.mould == kind), key=lambda turn: turn.start)
        for number, slot in enumerate(slots):
            yield slot.used, number < len(turns)
            if number < len(turns):
                turn = turns[number]
                filled = Counter((place[id(batch)], casting) for casting, batch in turn.fills)
                yield from ((fill, filled[at]) for at, fill in slot.fills.items())
                yield from _minutes(turn, (slot.sides, slot.strip, slot.clean))


def _loads(whole: Whole, number: int, batch: Batch) -> Iterator[Known]:
    for load, var in whole.batches.all[number].load.items():
        yield var, whole.batches.loads[load] == batch.load
    if number in whole.gives:
        yield whole.gives[number], batch.cubes


def _minutes(turn: Turn, tasks: tuple[cp_model.IntVar | None, cp_model.IntVar, cp_model.IntVar]) -> Iterator[Known]:
    for var, span in zip(tasks, (turn.sides, turn.strip, turn.clean), strict=True):
        if var is not None and span is not None:
            yield var, span.start
