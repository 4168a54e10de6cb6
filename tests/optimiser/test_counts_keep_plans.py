"""The counts held to blockrun's own plans: they are real plans as well, tighter ones than the foreman's."""

from __future__ import annotations

from functools import cache

import pytest

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tries
from blockrun.optimiser.roll import Roll
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State
from blockrun.planner.brief import Brief, brief
from tests.optimiser.held import hold, morning
from tests.yards import a_yard

EFFORT = Effort(5.0, lambda: False)
SEEDS = range(12)
BLOCKS = (6, 16)
DAYS = 150

Case = tuple[Brief, Limits, State, Score]


@cache
def played(seed: int) -> Case:
    """A yard and the best of the plans of quick plays and one by the day."""
    yard = a_yard(seed, BLOCKS)
    asked = brief(yard.site, yard.order, DAYS)
    problem, limits = asked.problem, Limits(asked.problem)
    effort, foreman = Effort(1.0, lambda: False), Foreman(problem, limits, 1000)
    by_day = Roll(problem, limits, lambda state: {state.day: foreman.day(state)}, effort, foreman.worth).play()
    assert by_day is not None
    quick = [tried.state for tried in Tries(Ground(problem, limits), 0, lambda: False).openings()]
    plan = min((by_day, *quick), key=lambda plan: score(problem, plan))
    return asked, limits, plan, score(problem, plan)


def last_day(seed: int) -> int:
    asked, _, _, reached = played(seed)
    return asked.problem.day_index[reached.finish]


def held(seed: int, first: int, last: int, *, overflow: bool = False) -> Counts:
    asked, limits, state, _ = played(seed)
    counts = Counts(asked.problem, limits, limits.when, morning(state, asked, first), last, overflow)
    hold(counts, state)
    counts.model.minimize(block_days_late(counts))
    return counts


@pytest.mark.parametrize("seed", SEEDS)
def test_a_whole_plan_keeps_the_rules_and_counts_as_it_scores(seed: int) -> None:
    reached = played(seed)[3]
    counts = held(seed, 0, last_day(seed))
    answer = run(counts.model, EFFORT)
    assert answer.found
    assert answer.objective <= reached.late
    assert answer.value(counts.n_batches()) == reached.batches
    assert answer.value(counts.cement()) == reached.cement


@pytest.mark.parametrize("seed", SEEDS)
def test_the_rest_of_a_plan_keeps_the_rules_from_every_morning_on(seed: int) -> None:
    for first in range(1, last_day(seed) + 1):
        answer = run(held(seed, first, last_day(seed)).model, EFFORT)
        assert answer.found, first
        assert answer.objective <= played(seed)[3].late


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_longer_than_the_counts_keeps_their_rules(seed: int) -> None:
    for last in range(last_day(seed)):
        answer = run(held(seed, 0, last, overflow=True).model, EFFORT)
        assert answer.found, last
        assert answer.objective <= played(seed)[3].late
