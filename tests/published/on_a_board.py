"""Scheduling problems of the textbooks put on the board of a day, and solved as a day is.

Every operation is a task of the board that must be done (as stripping is before a frost). A machine is a kind of mould
of which there is one, and a resource of four units a kind of which there are four: an operation has as many of them
stand as it needs, from its start until it is done. What the first resource of a project gives are people. "Not before
that one is done" is the rule by which a mould is stripped after its sides are off. Nothing stays on a rack.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from blockrun.optimiser.board import Board, Task
from blockrun.optimiser.day import _SEARCH  # the settings under test are those that days are solved with
from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import State
from tests.optimiser.small import MOULD, YARD

EFFORT = Effort(work=5.0, stop=lambda: False)


@dataclass(frozen=True)
class Operation:
    """What takes so many minutes and people, and so many units of each resource, once others are done."""

    length: int
    people: int
    units: tuple[int, ...]
    after: tuple[int, ...] = ()


@dataclass(frozen=True)
class Shop:
    """Operations, the people, and how many units there are of each resource."""

    operations: tuple[Operation, ...]
    people: int
    units: tuple[int, ...]


@dataclass(frozen=True)
class Solved:
    """The start of each operation, the minute all are done, and the minute nothing gets below."""

    starts: tuple[int, ...]
    done: int
    bound: int


def job_shop(jobs: Iterable[Sequence[tuple[int, int]]]) -> Shop:
    """Jobs of (machine, minutes) in their order; a person for each job, so that people are never short."""
    listed = [list(job) for job in jobs]
    machines = 1 + max(machine for job in listed for machine, _ in job)
    operations: list[Operation] = []
    for job in listed:
        first = len(operations)
        for step, (machine, length) in enumerate(job):
            takes = tuple(int(of == machine) for of in range(machines))
            operations.append(Operation(length, 1, takes, (first + step - 1,) if step else ()))
    return Shop(tuple(operations), len(listed), (1,) * machines)


def solve(shop: Shop) -> Solved:
    """All done as soon as can be."""
    board = Board(_yard(shop), State())
    tasks = [_task(board, number, operation) for number, operation in enumerate(shop.operations)]
    done = board.minute("all done")
    for number, (task, operation) in enumerate(zip(tasks, shop.operations, strict=True)):
        for before in operation.after:
            board.after_strip(tasks[before], task, None, 0, 0, f"{before} before {number}")
        board.model.add(done >= task.end)
    board.share(chores=False)
    board.model.minimize(done)
    answer = run(board.model, EFFORT, **_SEARCH)
    return Solved(tuple(answer.value(task.start) for task in tasks), answer.objective, answer.bound)


def _yard(shop: Shop) -> Problem:
    day = replace(YARD.days[0], windows=((0, MINUTES_A_DAY),), people=shop.people)
    moulds = tuple(replace(MOULD, name=str(kind), count=count) for kind, count in enumerate(shop.units))
    return replace(YARD, days=(day,), moulds=moulds, rack_for=0)


def _task(board: Board, number: int, operation: Operation) -> Task:
    task = board.task(f"operation {number}", operation.length, people=operation.people)
    assert task is not None
    board.model.add(task.done == 1)
    for kind, units in enumerate(operation.units):
        for unit in range(units):
            board.stands(kind, task.start, task, f"operation {number} unit {unit} of {kind}")
    return task


def keeps_the_rules(shop: Shop, solved: Solved) -> bool:
    """Whether nothing begins too soon and nothing is taken twice, seen minute by minute without the board."""
    spans = [
        range(start, start + operation.length) for start, operation in zip(solved.starts, shop.operations, strict=True)
    ]
    in_order = all(
        spans[before].stop <= span.start
        for span, operation in zip(spans, shop.operations, strict=True)
        for before in operation.after
    )
    there = (shop.people, *shop.units)
    for minute in range(max(span.stop for span in spans)):
        running = [operation for span, operation in zip(spans, shop.operations, strict=True) if minute in span]
        taken = [sum(needs) for needs in zip(*((of.people, *of.units) for of in running), strict=True)]
        if any(used > most for used, most in zip(taken, there, strict=False)):
            return False
    return in_order and max(span.stop for span in spans) == solved.done


def unlimited(shop: Shop) -> Shop:
    """The same with people and units enough for everything at once."""
    operations = shop.operations
    enough = tuple(sum(units) for units in zip(*(operation.units for operation in operations), strict=True))
    return replace(shop, people=sum(operation.people for operation in operations), units=enough)
