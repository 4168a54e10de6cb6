"""Bounds and plans held against every plan there is, on problems small enough to try them all."""

from __future__ import annotations

from functools import cache

import pytest

from blockrun.optimiser.best import Found
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Search
from tests.optimiser.tiny import POUR_DAYS, SEEDS, tiny, tried


@cache
def searched(seed: int) -> Found | None:
    problem = tiny(seed)
    return Search(problem, Limits(problem), Effort(1.0, lambda: False), lambda _: None, rounds=1).run()


@pytest.mark.parametrize("seed", SEEDS)
def test_no_plan_is_better_than_a_bound_with_the_stages_before_held(seed: int) -> None:
    found = searched(seed)
    if found is None:
        assert not tried(seed)
        return
    good = set(tried(seed))
    for stage, (value, bound) in enumerate(zip(found.score.stages, found.bounds, strict=True)):
        assert all(bound <= outcome[stage] for outcome in good), stage
        assert bound <= value
        good = {outcome for outcome in good if outcome[stage] <= value}


@pytest.mark.parametrize("seed", SEEDS)
def test_no_plan_found_is_better_than_the_best_of_all(seed: int) -> None:
    found = searched(seed)
    days = tiny(seed).days
    if found is not None and found.score.finish <= days[POUR_DAYS - 1].number:
        assert min(tried(seed)) <= found.score.stages
    else:
        assert not tried(seed) or found is not None
