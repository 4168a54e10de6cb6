"""Bounds and plans held against every plan there is, on problems small enough to try them all."""

from __future__ import annotations

from functools import cache

import pytest

from blockrun.optimiser.best import Found
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Search
from tests.optimiser.tiny import POUR_DAYS, SAWN_SEEDS, SEEDS, tiny, tiny_sawn, tried

YARDS = [*((seed, False) for seed in SEEDS), *((seed, True) for seed in SAWN_SEEDS)]
"""Seed, and whether there is a slab."""


@cache
def searched(seed: int, sawn: bool) -> Found | None:
    problem = tiny_sawn(seed) if sawn else tiny(seed)
    return Search(problem, Limits(problem), Effort(1.0, lambda: False), lambda _: None, rounds=1).run()


@pytest.mark.parametrize(("seed", "sawn"), YARDS)
def test_no_plan_is_better_than_a_bound_with_the_stages_before_held(seed: int, sawn: bool) -> None:
    found = searched(seed, sawn)
    if found is None:
        assert not tried(seed, sawn=sawn)
        return
    good = set(tried(seed, sawn=sawn))
    for stage, (value, bound) in enumerate(zip(found.score.stages, found.bounds, strict=True)):
        assert all(bound <= outcome[stage] for outcome in good), stage
        assert bound <= value
        good = {outcome for outcome in good if outcome[stage] <= value}


@pytest.mark.parametrize(("seed", "sawn"), YARDS)
def test_no_plan_found_is_better_than_the_best_of_all(seed: int, sawn: bool) -> None:
    found = searched(seed, sawn)
    days = tiny(seed).days
    if found is not None and found.score.finish <= days[POUR_DAYS - 1].number:
        assert min(tried(seed, sawn=sawn)) <= found.score.stages
    else:
        assert not tried(seed, sawn=sawn) or found is not None
