"""The counts of the days, solved by an engine of other make: all four stages come out the same, each with those before.

No figure of a book is checked here, only that the figures do not hang on who solves: CP-SAT is blockrun's own engine,
and HiGHS (Q. Huangfu and J. A. J. Hall, Parallelizing the dual revised simplex method, Mathematical Programming
Computation 10 (2018), 119-142), which branches on linear programs, is the other. All numbers are whole, so there is no
tolerance.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from ortools.sat.python import cp_model

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State
from tests.optimiser.tiny_yards import KINDS
from tests.published.second_engine import least

EFFORT = Effort(work=20.0, stop=lambda: False)
LAST = 2
"""Position of the last day of pours."""
YARDS = [(kind, seed) for kind, most in (("plain", 70), ("sawn", 65), ("cubed", 65)) for seed in range(most)]


def our_least(model: cp_model.CpModel) -> int | None:
    answer = run(model, EFFORT)
    assert answer.found or answer.impossible
    assert not answer.found or answer.bound == answer.objective
    return answer.objective if answer.found else None


def agreed(model: cp_model.CpModel) -> int | None:
    """What both engines say is the least."""
    ours = our_least(model)
    assert ours == least(model)
    return ours


def ordered(kind: str, seed: int) -> Problem:
    """A tiny yard; of every third one twice as much is asked."""
    problem, times = KINDS[kind](seed), 1 + (seed % 3 == 0)
    formats = tuple(
        replace(block, demand=times * block.demand, needs=tuple((day, times * count) for day, count in block.needs))
        for block in problem.formats
    )
    return replace(problem, formats=formats)


def counted(problem: Problem, last: int = LAST, late: int | None = None) -> Counts:
    """Counts of the days up to a last one, no later than ``late``."""
    limits = Limits(problem)
    counts = Counts(problem, limits, limits.when, State(), last)
    if late is None:
        counts.model.minimize(block_days_late(counts))
    else:
        counts.model.add(block_days_late(counts) <= late)
    return counts


@pytest.mark.parametrize(("kind", "seed"), YARDS)
def test_both_engines_come_to_the_same_late_finish_batches_and_cement(kind: str, seed: int) -> None:
    problem = ordered(kind, seed)
    late = agreed(counted(problem).model)
    if late is None:  # both say that the days are too few
        return
    for last in range(LAST + 1):  # the first of these days that both find an answer for is the finish
        counts = counted(problem, last, late)
        counts.model.minimize(counts.n_batches())
        batches = agreed(counts.model)
        if batches is not None:
            counts.model.add(counts.n_batches() <= batches)
            counts.model.minimize(counts.cement())
            assert agreed(counts.model) is not None
            return
    pytest.fail("what was found by the last day is not found again")


@pytest.mark.parametrize("engine", [our_least, least])
def test_each_engine_refuses_a_batch_less_than_the_fewest(engine: Callable[[cp_model.CpModel], int | None]) -> None:
    counts = counted(ordered("plain", 2))
    counts.model.minimize(counts.n_batches())
    fewest = engine(counts.model)
    assert fewest
    counts.model.add(counts.n_batches() <= fewest - 1)
    assert engine(counts.model) is None


def test_most_of_the_yards_have_a_plan_and_many_are_late() -> None:
    found = [our_least(counted(ordered(kind, seed)).model) for kind, seed in YARDS[::10]]
    assert sum(late is not None for late in found) > len(found) // 2
    assert sum(bool(late) for late in found) > len(found) // 6
