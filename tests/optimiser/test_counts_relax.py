"""The counts relax the minutes: what any real plan does keeps every rule of the counts.

All that is counted is held to what the plan did; if a rule is then broken, that rule forbids a real plan and no bound
from the counts can be trusted.
"""

from __future__ import annotations

from functools import cache

import pytest

from blockrun.optimiser.bounds import Bounds, Relaxed
from blockrun.optimiser.counts import Counts
from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State
from blockrun.planner.brief import Brief, brief
from tests.bench.ledger import MINUTES_A_DAY
from tests.bench.rule import work
from tests.optimiser.held import hold, morning, state_of
from tests.yards import a_yard

EFFORT = Effort(5.0, lambda: False)
SEEDS = range(16)


@cache
def played(seed: int) -> tuple[Brief, Limits, State, Score]:
    """A yard, what the foreman does in it, and how good that is."""
    yard = a_yard(seed)
    worked = work(yard.site, yard.order)
    days = max(turn.cleaned or 0 for turn in worked.turns) // MINUTES_A_DAY
    asked = brief(yard.site, yard.order, days + 60)
    state = state_of(asked, worked)
    return asked, Limits(asked.problem), state, score(asked.problem, state)


def last_day(seed: int) -> int:
    asked, _, _, reached = played(seed)
    return asked.problem.day_index[reached.finish]


def held_counts(seed: int, first: int, last: int, *, overflow: bool = False) -> Counts:
    asked, limits, state, _ = played(seed)
    counts = Counts(asked.problem, limits, limits.when, morning(state, asked, first), last, overflow)
    hold(counts, state)
    return counts


@pytest.mark.parametrize("seed", SEEDS)
def test_a_whole_plan_keeps_the_rules_of_the_counts(seed: int) -> None:
    reached = played(seed)[3]
    counts = held_counts(seed, 0, last_day(seed))
    counts.model.minimize(block_days_late(counts))
    answer = run(counts.model, EFFORT)
    assert answer.found
    assert answer.objective <= reached.late
    assert answer.value(counts.n_batches()) == reached.batches
    assert answer.value(counts.cement()) == reached.cement


@pytest.mark.parametrize("seed", SEEDS)
def test_the_rest_of_a_plan_keeps_the_rules_from_any_morning_on(seed: int) -> None:
    last = last_day(seed)
    for first in {last // 3, last // 2, last}:
        counts = held_counts(seed, first, last)
        counts.model.minimize(block_days_late(counts))
        answer = run(counts.model, EFFORT)
        assert answer.found
        assert answer.objective <= played(seed)[3].late


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_longer_than_the_counts_keeps_their_rules(seed: int) -> None:
    last = last_day(seed)
    for day in {last // 2, max(0, last - 1)}:
        counts = held_counts(seed, 0, day, overflow=True)
        counts.model.minimize(block_days_late(counts))
        answer = run(counts.model, EFFORT)
        assert answer.found
        assert answer.objective <= played(seed)[3].late


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("overflow", [False, True])
def test_a_whole_plan_keeps_the_rows_that_bound_and_is_no_better_than_they_say(seed: int, overflow: bool) -> None:
    asked, limits, state, reached = played(seed)
    last = last_day(seed)
    counts = Counts(asked.problem, limits, limits.when, State(), last, overflow, lean=True)
    relaxed = Relaxed(counts)
    hold(counts, state)
    assert run(counts.model, EFFORT).found
    assert relaxed.late() <= reached.late
    assert not relaxed.misses(last, reached)
    if not overflow:
        assert relaxed.batches(reached) <= reached.batches
        assert relaxed.cement(reached) <= reached.cement


@pytest.mark.parametrize("seed", SEEDS)
def test_no_plan_is_less_late_than_the_bound_seen_from_a_shorter_one(seed: int) -> None:
    asked, limits, _, reached = played(seed)
    shorter = asked.problem.days[max(0, last_day(seed) - 1)].number
    hasty = Score(late=1 << 20, finish=shorter, batches=0, cement=0, pours=0, turns=0)
    assert Bounds(asked.problem, limits, EFFORT).late(hasty) <= reached.late
