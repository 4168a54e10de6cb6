"""Small orders are solved outright: stage by stage as well as the best of all plans, and that is what is claimed."""

from __future__ import annotations

import pytest

from blockrun.optimiser.exact.exact import Exact
from blockrun.optimiser.limits import Limits
from tests.optimiser.quick.kept import broken
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_found import EFFORT, EVERY_YARD, searched
from tests.optimiser.tiny_yards import KINDS


def test_there_are_hundreds_of_them_most_with_a_plan() -> None:
    assert len(EVERY_YARD) > 300
    assert sum(bool(searched(seed, kind)) for seed, kind in EVERY_YARD[::20]) > len(EVERY_YARD) // 40


@pytest.mark.parametrize(("seed", "kind"), EVERY_YARD)
def test_all_four_stages_are_those_of_the_best_of_all_plans_and_are_proven(seed: int, kind: str) -> None:
    found, best = searched(seed, kind), min(tried(seed, kind), default=None)
    assert (found and found.score.stages) == best
    assert (found and found.bounds) == best
    assert found is None or broken(KINDS[kind](seed), found.state) == []


@pytest.mark.parametrize(("seed", "kind"), [(1, "plain"), (24, "plain"), (31, "sawn"), (49, "sawn"), (2, "cubed")])
def test_so_they_are_without_a_plan_to_begin_from(seed: int, kind: str) -> None:
    problem = KINDS[kind](seed)
    proven = Exact(problem, Limits(problem), EFFORT).solve(None)
    assert proven is not None
    assert proven.bounds == min(tried(seed, kind))
