"""Tiny yards with hot hours, all of whose plans are tried: none is missed, none is made up, and no bound passes one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.exact.exact import Exact
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Search
from tests.optimiser.quick.kept import broken
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_found import EFFORT, searched
from tests.optimiser.tiny_yards import EVERY, tiny_hot

SEEDS = EVERY["plain"][:60]


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_found_in_heat_is_as_good_as_any_plan_and_proven(seed: int) -> None:
    found, best = searched(seed, "hot"), min(tried(seed, "hot"), default=None)
    assert (found and found.score.stages) == best
    assert (found and found.bounds) == best
    assert found is None or broken(tiny_hot(seed), found.state) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_plays_of_days_keep_the_heat_and_no_bound_passes_a_plan(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Exact, "fits", False)
    problem, good = tiny_hot(seed), set(tried(seed, "hot"))
    found = Search(problem, Limits(problem), EFFORT, lambda _: None, rounds=1).run()
    if found is None:
        assert not good
        return
    assert broken(problem, found.state) == []
    assert min(good) <= found.score.stages
    bounds = Bounds(problem, Limits(problem), EFFORT)
    for stage, bound in enumerate((bounds.late, bounds.finish, bounds.batches, bounds.cement)):
        value, least = found.score.stages[stage], bound(found.score)
        assert all(least <= outcome[stage] for outcome in good), stage
        good = {outcome for outcome in good if outcome[stage] <= value}


def test_heat_tells_in_many_of_these_yards() -> None:
    assert sum(tried(seed, "hot") != tried(seed) for seed in SEEDS) > len(SEEDS) // 4


@pytest.mark.parametrize("seed", SEEDS[::6])
def test_batches_that_are_poured_however_hot_it_is_are_poured_as_ever(seed: int) -> None:
    problem = tiny_hot(seed)
    hardy = replace(problem, loads=tuple(replace(load, hardy=True) for load in problem.loads))
    cool = replace(problem, days=tuple(replace(day, hot=()) for day in problem.days))
    stages = [
        found and found.score.stages
        for of in (hardy, cool)
        for found in [Search(of, Limits(of), EFFORT, lambda _: None, rounds=1).run()]
    ]
    assert stages[0] == stages[1]
