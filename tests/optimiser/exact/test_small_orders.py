"""Orders of a few blocks in whole yards: every play is a plan of the model, and none is better than what is proven."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import pytest

from blockrun.optimiser.exact.exact import HELD, Exact, Proven
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem, Stack
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tries
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State
from blockrun.planner.brief import brief
from tests.optimiser.quick.kept import broken
from tests.optimiser.small import EFFORT, YARD
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_found import YARDS
from tests.optimiser.tiny_yards import KINDS
from tests.yards import a_yard

SEEDS = (0, 2, 3, 5, 8, 10)
PLAYS = 60


@dataclass
class Solved:
    """A small order of a whole yard, its plays and what is proven of it."""

    problem: Problem
    plays: list[State]
    proven: Proven | None


def plays_of(problem: Problem, more: int = 0) -> list[State]:
    tries = Tries(Ground(problem, Limits(problem)), 0, lambda: False)
    openings = list(tries.openings())
    return [each.state for each in (*openings, *tries.improved(openings, more, "test"))] if openings else []


@cache
def solved(seed: int) -> Solved:
    yard = a_yard(seed, (6, 6))
    problem = brief(yard.site, yard.order, 120).problem
    plays = plays_of(problem, PLAYS)
    first = min(plays, key=lambda play: score(problem, play).stages[::-1])
    return Solved(problem, plays, Exact(problem, Limits(problem), EFFORT).solve(first))


@pytest.mark.parametrize("seed", SEEDS)
def test_every_stage_is_proven(seed: int) -> None:
    of = solved(seed)
    assert of.proven is not None
    assert broken(of.problem, of.proven.state) == []
    assert score(of.problem, of.proven.state).stages == of.proven.bounds


@pytest.mark.parametrize("seed", SEEDS)
def test_no_play_is_better(seed: int) -> None:
    of = solved(seed)
    assert of.proven is not None
    best: Score = min(score(of.problem, play) for play in of.plays)
    assert of.proven.bounds <= best.stages


@pytest.mark.parametrize(("seed", "kind"), YARDS[::3])
def test_every_play_of_a_tiny_yard_is_one_to_begin_from(seed: int, kind: str) -> None:
    problem = KINDS[kind](seed)
    exact = Exact(problem, Limits(problem), EFFORT)
    for play in plays_of(problem)[:2]:
        proven = exact.solve(play)
        assert proven is not None
        assert proven.bounds == min(tried(seed, kind))


def test_of_an_order_that_is_not_small_it_says_nothing() -> None:
    many = replace(YARD, formats=(replace(YARD.formats[0], demand=16),))
    exact = Exact(many, Limits(many), EFFORT)
    assert not exact.fits
    assert exact.solve(None) is None
    assert exact.solve(plays_of(many)[0]) is None


def test_nor_of_rules_it_does_not_hold() -> None:
    stacked = replace(YARD, stack=Stack(1, 2))
    assert "stack" not in HELD
    assert Exact(YARD, Limits(YARD), EFFORT).fits
    assert not Exact(stacked, Limits(stacked), EFFORT).fits


def test_nor_without_a_day_to_pour_on() -> None:
    closed = replace(YARD, days=tuple(replace(day, last_foam=day.opens - 1) for day in YARD.days))
    assert Exact(closed, Limits(closed), EFFORT).solve(None) is None


def test_a_search_that_is_stopped_claims_nothing_it_has_not_proven() -> None:
    problem = KINDS["plain"](48)
    play = plays_of(problem)[0]
    stopped = Exact(problem, Limits(problem), replace(EFFORT, stop=lambda: True)).solve(play)
    assert stopped is None or stopped.bounds <= min(tried(48, "plain"))
