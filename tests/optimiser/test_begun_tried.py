"""Searches that go on from a tiny yard held against every plan there is from there."""

from __future__ import annotations

from functools import cache

import pytest

from blockrun.optimiser.begun import settled
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.entry import search
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.outcome import Outcome
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State
from tests.optimiser.test_begun import EFFORT
from tests.optimiser.test_follow import cut_at
from tests.optimiser.tiny import Tuple4
from tests.optimiser.tiny_begun import outcomes_from

WRONG = ("nothing", "a batch is flat", "a day closed", "people away", "a turn sets slowly")
PLANNED = (1, 2, 6, 7, 8, 10, 15, 16, 17, 18, 21, 23, 24, 25, 26, 28, 29)
"""Seeds of yards that have plans."""


@cache
def tried(seed: int, what: str) -> tuple[Problem, State, set[Tuple4], Outcome]:
    of = cut_at("plain", seed, what)
    outcome = search(of.problem, 0, 1, of.begun, of.old, stop=lambda: False, tell=lambda _: None, alone=True)
    return of.problem, of.begun, outcomes_from(of.problem, of.begun), outcome


@pytest.mark.parametrize("what", WRONG)
@pytest.mark.parametrize("seed", PLANNED)
def test_no_bound_passes_a_plan_and_no_plan_is_better_than_all(seed: int, what: str) -> None:
    problem, begun, good, outcome = tried(seed, what)
    if outcome.found is None:
        assert not good
        return
    best = outcome.found.score
    assert min(good) <= best.stages
    bounds = Bounds(problem, Limits(problem, settled(problem, begun)), EFFORT)
    for stage, bound in enumerate((bounds.late, bounds.finish, bounds.batches, bounds.cement)):
        least = max(bound(best), outcome.found.bounds[stage])
        assert all(least <= outcome[stage] for outcome in good), stage
        good = {outcome for outcome in good if outcome[stage] <= best.stages[stage]}


def test_the_best_of_all_plans_is_found() -> None:
    for seed in PLANNED:
        for what in WRONG:
            *_, good, outcome = tried(seed, what)
            assert (outcome.found.score.stages if outcome.found else None) == min(good, default=None), (seed, what)
