"""Bounds and plans held against every plan there is, on problems small enough to try them all."""

from __future__ import annotations

from functools import cache

import pytest

from blockrun.optimiser.best import Found
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Search
from tests.optimiser.tiny import CUBED_SEEDS, KINDS, POUR_DAYS, SAWN_SEEDS, SEEDS, tiny, tried

YARDS = [
    (seed, kind) for kind, seeds in (("plain", SEEDS), ("sawn", SAWN_SEEDS), ("cubed", CUBED_SEEDS)) for seed in seeds
]
"""Seed and kind."""


@cache
def searched(seed: int, kind: str) -> Found | None:
    problem = KINDS[kind](seed)
    return Search(problem, Limits(problem), Effort(1.0, lambda: False), lambda _: None, rounds=1).run()


@pytest.mark.parametrize(("seed", "kind"), YARDS)
def test_no_plan_is_better_than_a_bound_with_the_stages_before_held(seed: int, kind: str) -> None:
    found = searched(seed, kind)
    if found is None:
        assert not tried(seed, kind)
        return
    good = set(tried(seed, kind))
    for stage, (value, bound) in enumerate(zip(found.score.stages, found.bounds, strict=True)):
        assert all(bound <= outcome[stage] for outcome in good), stage
        assert bound <= value
        good = {outcome for outcome in good if outcome[stage] <= value}


@pytest.mark.parametrize(("seed", "kind"), YARDS)
def test_counts_alone_never_pass_a_plan_though_nothing_is_claimed_where_they_do(seed: int, kind: str) -> None:
    """What is found drops all bounds where one is above its plan: here they are as the counts give them."""
    found, problem = searched(seed, kind), KINDS[kind](seed)
    good = set(tried(seed, kind))
    if found is None:
        assert not good
        return
    bounds = Bounds(problem, Limits(problem), Effort(1.0, lambda: False))
    assert not bounds.impossible
    of_stages = (bounds.late, bounds.finish, bounds.batches, bounds.cement)
    for stage, (value, bound) in enumerate(zip(found.score.stages, of_stages, strict=True)):
        least = bound(found.score)
        assert least <= value
        assert all(least <= outcome[stage] for outcome in good), stage
        good = {outcome for outcome in good if outcome[stage] <= value}


@pytest.mark.parametrize(("seed", "kind"), YARDS)
def test_no_plan_found_is_better_than_the_best_of_all(seed: int, kind: str) -> None:
    found = searched(seed, kind)
    days = tiny(seed).days
    if found is not None and found.score.finish <= days[POUR_DAYS - 1].number:
        assert min(tried(seed, kind)) <= found.score.stages
    else:
        assert not tried(seed, kind) or found is not None
