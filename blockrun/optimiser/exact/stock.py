"""Cement and agent: no batch is made of what has not come yet."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Expression
from blockrun.optimiser.exact.batches import Batch
from blockrun.optimiser.problem import Supply


def in_stock(
    model: cp_model.CpModel, supply: Supply, first: int, batches: list[Batch], drawn: list[Expression], most_each: int
) -> None:
    """Batches draw no more by the end of each day than has come by then; ``drawn`` is of each, ``most_each`` at most.

    ``first`` is the number of the first day.
    """
    for until, amount in _rows(supply, first):
        if amount < most_each * len(batches):
            by_then = (
                drawn
                if until is None
                else [
                    _before(model, until, batch, of_batch, most_each)
                    for batch, of_batch in zip(batches, drawn, strict=True)
                ]
            )
            model.add(sum(by_then) <= amount)


def _rows(supply: Supply, first: int) -> Iterator[tuple[int | None, int]]:
    """Day before which no more than an amount may be drawn, ``None`` for all days."""
    steps = ((-1, 0), *supply.steps)
    for (_, amount), (day, _) in pairwise(steps):
        if day > first:
            yield day, amount
    yield None, steps[-1][1]


def _before(model: cp_model.CpModel, day: int, batch: Batch, drawn: Expression, most: int) -> cp_model.IntVar:
    """What a batch draws, where it is made before a day."""
    before = model.new_bool_var(f"before {day}")
    model.add(batch.day >= day).only_enforce_if(before.negated())
    amount = model.new_int_var(0, most, f"drawn before {day}")
    model.add(amount >= drawn).only_enforce_if(before)
    return amount
