"""Runs of pours say of every minute what the table of ripe minutes says."""

from __future__ import annotations

from bisect import bisect_right
from random import Random

import numpy as np
import pytest
from ortools.sat.python import cp_model

from blockrun.optimiser.engine import run
from blockrun.optimiser.exact.ripe import Run, once_ripe, runs_of
from blockrun.optimiser.problem import Minutes
from tests.optimiser.small import CLOSES, EFFORT, HORIZON, OPENS, YARD, at

POURS = [(at(day, OPENS + 20), at(day, CLOSES)) for day in range(3)]
LENGTH = 12


def a_table(seed: int) -> Minutes:
    """Ripe after some hours, sooner in some hours than in others, as with warm and cold air."""
    rng = Random(seed)
    after = rng.choice((200, 900, 1400))
    steps = [rng.choice((0, 1, 1, 1, 1, 1, 2)) for _ in range(HORIZON * 1440)]
    ripe = np.maximum(after + np.cumsum(steps), np.arange(len(steps)) + 60)
    return np.where(ripe < len(ripe), ripe, -1).astype(np.int32)


def soonest(runs: list[Run], poured: int) -> int | None:
    of = runs[bisect_right([run.first for run in runs], poured) - 1]
    return YARD.fit(of.at if of.at is not None else poured + of.after, LENGTH)


@pytest.mark.parametrize("seed", range(6))
def test_of_every_minute_of_a_pour(seed: int) -> None:
    table = a_table(seed)
    runs = runs_of(YARD, table, POURS, LENGTH)
    poured = [minute for first, last in POURS for minute in range(first, last + 1)]
    assert [soonest(runs, minute) for minute in poured] == [YARD.fit(int(table[minute]), LENGTH) for minute in poured]


@pytest.mark.parametrize("seed", range(6))
def test_a_task_is_never_done_sooner_and_can_be_done_then(seed: int) -> None:
    table, rng = a_table(seed), Random(seed)
    runs = runs_of(YARD, table, POURS, LENGTH)
    for first, last in POURS:
        minute = rng.randint(first, last)
        model = cp_model.CpModel()
        poured = model.new_int_var(minute, POURS[-1][1], "poured")
        windows = [[start, end - LENGTH] for start, end in YARD.windows]
        start = model.new_int_var_from_domain(cp_model.Domain.from_intervals(windows), "start")
        once_ripe(model, runs, poured, start, model.new_constant(1))
        model.minimize(start)
        assert run(model, EFFORT).objective == YARD.fit(int(table[minute]), LENGTH)


def test_equal_times_after_the_pour_are_one_run() -> None:
    table = (np.arange(HORIZON * 1440) + 30).astype(np.int32)
    assert len(runs_of(YARD, table, POURS, LENGTH)) == 1


def test_what_is_never_ripe_is_in_no_run() -> None:
    table = np.full(HORIZON * 1440, -1, dtype=np.int32)
    assert runs_of(YARD, table, POURS, LENGTH) == []
