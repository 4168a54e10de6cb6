"""The trying of every plan keeps the rules that plans are held to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.optimiser.tiny import outcomes, tried
from tests.optimiser.tiny_yards import SEEDS, tiny

NO_PLAN = (1 << 30,) * 4


@pytest.mark.parametrize("seed", [1, 19])
def test_chores_keep_people_from_what_they_could_do_without_them(seed: int) -> None:
    problem = tiny(seed)
    idle = replace(problem, days=tuple(replace(day, chores=()) for day in problem.days))
    assert min(outcomes(idle)) < min(tried(seed), default=NO_PLAN)


def test_people_who_are_away_are_missed() -> None:
    problem = tiny(42)
    steady = replace(problem, days=tuple(replace(day, people=2) for day in problem.days))
    assert {day.people for day in problem.days} == {1, 2, 3}
    assert not tried(42)
    assert outcomes(steady)


def test_the_yards_tried_have_chores_other_people_both_and_neither() -> None:
    of = [(bool(tiny(seed).days[0].chores), len({day.people for day in tiny(seed).days}) > 1) for seed in SEEDS]
    assert set(of) == {(chores, people) for chores in (False, True) for people in (False, True)}
