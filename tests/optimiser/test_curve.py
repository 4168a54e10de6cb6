"""Bounds by arithmetic: right by hand where one thing alone is short, and never above what a plan reaches."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.optimiser.curve import Curve
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem, Supply
from tests.optimiser.small import LOAD, MOULD, NEXT_DAY, YARD, ripe
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_yards import SEEDS, tiny


def curve(problem: Problem) -> Curve:
    return Curve(problem, Limits(problem))


def ordered(demand: int, needs: tuple[tuple[int, int], ...] = (), **changes: object) -> Problem:
    """The small yard with so many blocks ordered: two moulds of two, stripped the next day."""
    block = replace(YARD.formats[0], demand=demand, needs=needs)
    return replace(YARD, formats=(block,), ripe_strip=(ripe(NEXT_DAY),), places=1000, **changes)


def test_moulds_alone_bound_the_last_pour() -> None:
    # four blocks a day and no second turn: twelve take three days
    assert [curve(ordered(demand)).finish for demand in (4, 5, 8, 12, 13)] == [0, 1, 1, 2, 3]


def test_cement_that_comes_late_bounds_the_last_pour() -> None:
    # two of cement a batch of two blocks: four blocks on hand, the rest on the fifth day
    late = ordered(6, cement=Supply(((0, 4), (5, 100))))
    assert curve(late).finish == 5


def test_agent_that_comes_late_bounds_the_last_pour() -> None:
    assert curve(ordered(6, agent=Supply(((0, 2), (7, 100))))).finish == 7


def test_a_full_rack_bounds_the_last_pour() -> None:
    # four stand in moulds, two on the rack for two days from the first strip, on day one
    tight = replace(ordered(8), places=2, rack_for=2 * 1440)
    assert curve(tight).finish == 3


def test_a_mixer_bounds_the_last_pour() -> None:
    slow = replace(LOAD, slurry=100, foam=0, pour=10, wash=30)  # one batch of two blocks a day, in the afternoon
    many = replace(MOULD, count=20)
    assert curve(replace(ordered(9, loads=(slow,)), moulds=(many,))).finish == 4


def test_blocks_needed_before_they_can_be_had_add_up_day_by_day() -> None:
    # poured on day 0 and 1, stripped a day later and laid two days after the pour
    needed = ordered(8, needs=((1, 8),), lay_at=2 * 1440, rack_for=0)
    # on day 1 none is ready, on day 2 four are, on day 3 all
    assert curve(needed).late == 8 + 4


def test_what_alone_makes_blocks_late_is_told_apart() -> None:
    scarce = ordered(8, needs=((3, 8),), cement=Supply(((0, 2), (5, 100))), lay_at=0, rack_for=0)
    alone = curve(scarce).late_alone
    # two blocks from what is on hand are in time; the other six are poured on day 5 and stripped on day 6
    assert alone["cement"] == 6 * 3
    assert alone["moulds"] == 0
    assert alone["age"] == 0


def test_blocks_needed_sooner_than_any_block_is_old_enough_are_late_by_their_age_alone() -> None:
    assert curve(ordered(2, needs=((1, 2),), lay_at=4 * 1440, rack_for=0)).late_alone["age"] == 2 * 3


def test_nothing_needed_is_never_late() -> None:
    assert curve(ordered(40)).late == 0


@pytest.mark.parametrize("seed", SEEDS)
def test_no_plan_of_a_tiny_yard_is_better(seed: int) -> None:
    problem, reached = tiny(seed), tried(seed)
    if not reached:
        return
    bound = curve(problem)
    assert bound.late <= min(late for late, *_ in reached)
    assert problem.days[bound.finish].number <= min(finish for _, finish, *_ in reached)
