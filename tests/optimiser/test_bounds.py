"""Bounds of a yard that can be reckoned by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tries
from blockrun.optimiser.score import Score
from blockrun.planner.brief import brief
from tests.optimiser.small import EFFORT, HORIZON, LOAD, MOULD, YARD, at, days
from tests.yards import a_yard

PLAN = Score(late=0, finish=9, batches=9, cement=30, pours=0, turns=0)
TWELVE = replace(YARD, formats=(replace(YARD.formats[0], demand=12),))
# one person strips and cleans a mould in 200 minutes and moves its blocks in two, and makes a batch in twenty
ALONE = replace(TWELVE, days=days(people=1), moulds=(replace(MOULD, strip=100, clean=100),))


def bounds(problem: Problem, effort: Effort = EFFORT) -> Bounds:
    return Bounds(problem, Limits(problem), effort)


def test_twelve_blocks_two_a_batch_take_six_batches_and_their_cement() -> None:
    assert bounds(TWELVE).batches(PLAN) == 6
    assert bounds(TWELVE).cement(PLAN) == 12


def test_two_moulds_of_two_take_three_days() -> None:
    assert bounds(TWELVE).finish(PLAN) == 2


def test_all_that_one_person_does_is_added_up_over_the_days() -> None:
    # four moulds are emptied and filled again, 888 minutes of 300 a day after the first
    assert bounds(ALONE).curve.finish == 2
    assert bounds(ALONE).finish(PLAN) == 3


def test_work_that_makes_the_last_pour_late_makes_blocks_late_too() -> None:
    format_ = replace(ALONE.formats[0], needs=((3, 12),))
    late = replace(ALONE, formats=(format_,), lay_at=1440, rack_for=0)
    assert bounds(late).curve.late == 0
    assert bounds(late).late(replace(PLAN, late=99)) > 0


def test_bounds_are_what_arithmetic_says_where_there_is_no_time() -> None:
    none = bounds(ALONE, Effort(5.0, lambda: True))
    assert none.finish(PLAN) == none.curve.finish
    assert none.late(replace(PLAN, late=5)) == none.curve.late
    assert (none.batches(PLAN), none.cement(PLAN)) == (6, 12)


# mornings have time for two batches of two blocks, afternoons for one; what is poured today is ripe at 700 tomorrow
AFTERNOON = 700
SLOW = replace(
    YARD,
    days=days(windows=((480, 680), (AFTERNOON, 800))),
    formats=(replace(YARD.formats[0], demand=8, volume=100_000),),
    loads=(replace(LOAD, slurry=80, room=200_000),),
    ripe_strip=(
        np.array(
            [
                at(day + 1, AFTERNOON) if day + 1 < HORIZON else -1
                for day in range(HORIZON)
                for _ in range(MINUTES_A_DAY)
            ],
            dtype=np.int32,
        ),
    ),
)


def test_what_is_poured_before_any_mould_is_free_is_not_poured_in_those_that_come_free_later() -> None:
    # both moulds are filled on the first day and stripped in the afternoon of the second, for one batch of that day
    assert bounds(SLOW).curve.finish == 1
    assert bounds(SLOW).finish(PLAN) == 2


def test_blocks_poured_late_are_not_stripped_with_moulds_that_were_filled_early() -> None:
    yard = a_yard(36)
    problem = brief(yard.site, yard.order, 120).problem
    best = min(tried.score for tried in Tries(Ground(problem, Limits(problem)), 0, lambda: False).openings())
    assert bounds(problem).finish(best) == best.finish
