"""From the foreman's plan to values of the textbook model, and from these to a plan."""

from __future__ import annotations

import math
from collections import Counter, defaultdict

from ortools.sat.python import cp_model

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import Batch, Span, State, Turn
from tests.bench.rivals.textbook_model import Textbook
from tests.bench.rivals.textbook_variables import BatchVars, TurnVars

Values = list[int]


def first_values(book: Textbook, seconds: float) -> Values | None:
    """All values of the model for the foreman's plan: his decisions are fixed, and the solver works out the rest."""
    model, fixed = book.model.clone(), dict(_decisions(book))
    for index, value in fixed.items():
        model.add(model.get_int_var_from_proto_index(index) == value)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = max(1.0, seconds)
    status = solver.solve(model)
    return list(solver.response_proto.solution) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


def _decisions(book: Textbook) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for batch in book.batches:
        found += _of_batch(book.problem, batch)
    for turn in book.turns:
        found += _of_turn(turn)
    for (t, casting, b), number in book.filled.items():
        his = book.batches[b].slot.his
        found.append((number.index, book.turns[t].slot.fills[casting, id(his)] if his else 0))
    return found


def _of_batch(problem: Problem, batch: BatchVars) -> list[tuple[int, int]]:
    his = batch.slot.his
    if his is None:
        return [(batch.present.index, 0)]
    chosen = [(var.index, int(problem.loads[n] is batch.slot.load)) for n, var in batch.loads.items()]
    return [(batch.present.index, 1), (batch.start.index, his.start or 0), *chosen]


def _of_turn(turn: TurnVars) -> list[tuple[int, int]]:
    his = turn.slot.his
    if his is None:
        return [(turn.present.index, 0)]
    found = [(turn.start, his.begun), (turn.strip, his.strip), (turn.clean, his.clean), (turn.sides, his.sides)]
    return [(turn.present.index, 1), *((var.index, at) for var, at in found if var is not None and at is not None)]


def state_from(book: Textbook, values: Values) -> State:
    """The plan of an answer."""
    problem = book.problem
    batches: dict[int, Batch] = {}
    for b, batch in enumerate(book.batches):
        if values[batch.present.index]:
            load = next(n for n, chosen in batch.loads.items() if values[chosen.index])
            batches[b] = Batch(problem.loads[load], values[batch.start.index], {})
    fills: dict[int, list[tuple[int, Batch]]] = defaultdict(list)
    for (t, casting, b), number in book.filled.items():
        for _ in range(values[number.index]):
            fills[t].append((casting, batches[b]))
            batches[b].content[casting] = batches[b].content.get(casting, 0) + 1
    turns = []
    for t, turn in enumerate(book.turns):
        if values[turn.present.index]:
            mould = problem.moulds[turn.slot.kind]
            spans = [(turn.sides, mould.sides), (turn.strip, mould.strip), (turn.clean, mould.clean)]
            sides, strip, clean = (
                None if var is None else Span(values[var.index], values[var.index] + n) for var, n in spans
            )
            turns.append(Turn(turn.slot.kind, fills[t], sides, strip, clean, values[turn.blocks.index]))
    made = [batch for batch in batches.values() if batch.content]
    _give_cubes(problem, made)
    return State(len(problem.days), turns, sorted(made, key=lambda batch: batch.start))


def _give_cubes(problem: Problem, batches: list[Batch]) -> None:
    """Each lot begun has its set on the day it is begun; every batch has room for one."""
    if problem.cubes is None:
        return
    made: Counter[int] = Counter()
    given: Counter[int] = Counter()
    for day in sorted({batch.start // MINUTES_A_DAY for batch in batches}):
        for mix in problem.mixes:
            of_day = [b for b in batches if b.start // MINUTES_A_DAY == day and b.load.mix == mix]
            made[mix] += sum(batch.load.cement for batch in of_day)
            due = math.ceil(made[mix] / problem.cubes.lots[mix]) - given[mix]
            for batch in of_day[:due]:
                batch.cubes = 1
                given[mix] += 1
