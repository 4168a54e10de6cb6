"""No row of any model of the biggest yard comes near the numbers a solver cannot be trusted with."""

from __future__ import annotations

from functools import cache

import pytest
from ortools.sat.python import cp_model

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.roll import Roll
from blockrun.optimiser.state import State
from blockrun.planner.brief import brief
from tests.optimiser.magnitudes import TRUSTED, greatest
from tests.yards import MEDIUM, a_yard

BIGGEST = 33
"""Of seeds under 40: seven formats in two mixes, four kinds of moulds, 312 blocks."""
DAYS = 60
MODELS = 12
"""Packings and days looked at."""


@cache
def biggest() -> Problem:
    yard = a_yard(BIGGEST, MEDIUM)
    return brief(yard.site, yard.order, DAYS).problem


def test_rows_are_added_up_over_the_greatest_values() -> None:
    model = cp_model.CpModel()
    few, many = model.new_int_var(-7, 2, "few"), model.new_int_var(0, 50, "many")
    model.add(3 * few - 4 * many <= 1)
    model.minimize(2 * many)
    assert greatest(model) == 3 * 7 + 4 * 50
    model.minimize(-9 * many)
    assert greatest(model) == 9 * 50


def test_counts_of_the_biggest_yard() -> None:
    problem, limits = biggest(), Limits(biggest())
    counts = Counts(problem, limits, limits.when, State(), len(problem.days) - 1, overflow=True)
    for aim in (block_days_late(counts), counts.n_batches(), counts.cement(), counts.early()):
        counts.model.minimize(aim)
        assert 0 < greatest(counts.model) < TRUSTED


def test_days_of_the_biggest_yard(monkeypatch: pytest.MonkeyPatch) -> None:
    problem, limits = biggest(), Limits(biggest())
    sums: list[int] = []
    check = cp_model.CpModel.validate

    def heard(model: cp_model.CpModel) -> str:
        sums.append(greatest(model))
        return check(model)

    monkeypatch.setattr(cp_model.CpModel, "validate", heard)
    foreman = Foreman(problem, limits, 1000)
    effort = Effort(1.0, lambda: len(sums) >= MODELS)
    Roll(problem, limits, lambda state: {state.day: foreman.day(state)}, effort, foreman.worth).play()
    assert len(sums) >= MODELS
    assert 0 < max(sums) < TRUSTED
