"""Tiny yards of four to eight blocks are solved as well as any plan there is."""

from __future__ import annotations

import pytest

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.search import Search
from tests.optimiser.crowded import NO_PLAN, crowded, least
from tests.optimiser.quick.kept import broken
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_found import EFFORT
from tests.optimiser.tiny_yards import EVERY, tiny

QUICK = (
    *(2, 6, 7, 10, 11, 16, 18, 19, 20, 24, 30, 33, 38, 39, 40, 41, 47, 49, 55, 57, 62, 73, 76, 79, 87, 92, 94, 96, 98),
    *(103, 108, 111, 113, 116, 117, 119, 120, 122, 126, 130, 131, 133),
)
"""Seeds of yards of which the best plan is found by trying in some tenths of a second."""


def of_one_kind(problem: Problem) -> bool:
    return len(problem.moulds) == len({load.mix for load in problem.loads}) == 1


@pytest.mark.parametrize("seed", QUICK)
def test_all_four_stages_are_those_of_the_best_plan_and_are_proven(seed: int) -> None:
    problem = crowded(seed)
    found = Search(problem, Limits(problem), EFFORT, lambda _: None, rounds=1).run()
    assert found is not None
    assert found.score.stages == found.bounds == least(problem)
    assert broken(problem, found.state) == []


def test_some_have_eight_blocks() -> None:
    assert {sum(block.demand for block in crowded(seed).formats) for seed in QUICK} == {4, 5, 6, 7, 8}


@pytest.mark.parametrize("seed", [seed for seed in EVERY["plain"][7:50] if of_one_kind(tiny(seed))])
def test_the_best_of_what_may_be_better_is_the_best_of_all(seed: int) -> None:
    assert least(tiny(seed)) == min(tried(seed), default=NO_PLAN)
