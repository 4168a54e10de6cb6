"""Bounds by counts and plans by the day held against every plan there is, on problems small enough to try them all."""

from __future__ import annotations

import pytest

from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.exact.exact import Exact
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Search
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_found import EFFORT, YARDS, searched
from tests.optimiser.tiny_yards import KINDS


@pytest.mark.parametrize(("seed", "kind"), YARDS[::4])
def test_a_search_of_days_finds_no_better_plan_and_no_higher_bound(
    seed: int, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Exact, "fits", False)
    problem = KINDS[kind](seed)
    found = Search(problem, Limits(problem), EFFORT, lambda _: None, rounds=1).run()
    good = set(tried(seed, kind))
    if found is None:
        assert not good
        return
    assert min(good) <= found.score.stages
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
    bounds = Bounds(problem, Limits(problem), EFFORT)
    assert not bounds.impossible
    of_stages = (bounds.late, bounds.finish, bounds.batches, bounds.cement)
    for stage, (value, bound) in enumerate(zip(found.score.stages, of_stages, strict=True)):
        least = bound(found.score)
        assert least <= value
        assert all(least <= outcome[stage] for outcome in good), stage
        good = {outcome for outcome in good if outcome[stage] <= value}
