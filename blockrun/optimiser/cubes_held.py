"""Cement is poured with the sets of test cubes that its lots take: a rule of models."""

from __future__ import annotations

from itertools import pairwise

from ortools.sat.python import cp_model

from blockrun.optimiser.cubes import Due
from blockrun.optimiser.engine import Expression


def hold_cubes(model: cp_model.CpModel, due: Due, cement: Expression, most_cement: int, sets: Expression) -> None:
    """Add to a model that cement is poured with the sets it takes: no more than ``most_cement`` in all."""
    allowed = [due.up_to(most_cement, n) for n in range(due.fewest(most_cement) + 1)]
    begun = [model.new_bool_var(f"lot {number} begun") for number in range(1, len(allowed))]
    for before, after in pairwise(begun):
        model.add_implication(after, before)
    rises = sum(((b - a) * lot for (a, b), lot in zip(pairwise(allowed), begun, strict=True)), start=0)
    model.add(cement <= allowed[0] + rises)
    model.add(sum(begun) <= sets)
