"""What the first lap lets through: right by hand, never less than plans strip, and what bounds say once it is asked."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.first_lap import FirstLap, ShortSlots
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tries
from blockrun.optimiser.score import Score
from blockrun.optimiser.state import State
from tests.optimiser.quick.test_laps import yard
from tests.optimiser.small import EFFORT, MOULD, YARD, at, days
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_yards import SEEDS, tiny

# one person, 110 minutes for a strip: by 702, the last minute from which a mould can be cleaned and filled again, 202
# minutes of a day are gone, and of the four blocks in moulds three at the most are stripped
SLOW = replace(
    YARD,
    days=days(people=1),
    moulds=(replace(MOULD, strip=110, clean=100),),
    places=4,
    rack_for=2 * MINUTES_A_DAY,
)
LAST = 702


def first_lap(problem: Problem, begun: State | None = None) -> FirstLap:
    return FirstLap(problem, Limits(problem, begun))


def ordered(problem: Problem, demand: int) -> Problem:
    return replace(problem, formats=(replace(problem.formats[0], demand=demand),))


def test_what_one_person_strips_by_a_minute_is_what_there_is_time_for() -> None:
    lap = first_lap(ordered(SLOW, 12))
    assert lap.most_stripped(at(1, 480)) == 0
    assert lap.most_stripped(at(1, LAST)) == 3


def test_a_full_rack_later_there_is_no_more_than_that_and_what_stands_in_moulds() -> None:
    # 3 in the first lap, 4 in the second, 4 in moulds; twelve would be one more than that, and are not asked about
    assert [first_lap(ordered(SLOW, demand)).misses(3) for demand in (11, 12, 13)] == [False, False, True]


def test_a_day_that_is_missed_is_none_of_the_last_pour() -> None:
    problem = ordered(SLOW, 13)
    bounds = Bounds(problem, Limits(problem), EFFORT)
    assert bounds.finish(Score(late=0, finish=9, batches=9, cement=30, pours=0, turns=0)) > 3


def test_it_says_nothing_without_a_rack_nor_before_it_is_full_nor_of_a_job_that_has_begun() -> None:
    problem = ordered(SLOW, 40)
    assert first_lap(problem).misses(3)
    assert not first_lap(replace(problem, rack_for=0)).misses(3)
    assert not first_lap(replace(problem, rack_for=4 * MINUTES_A_DAY)).misses(3)
    tries = Tries(Ground(YARD, Limits(YARD)), 0, lambda: False)
    begun = next(iter(tries.openings())).state
    assert not first_lap(problem, State(0, [], begun.batches)).misses(3)


def test_slots_of_a_long_day_are_longer_and_end_with_it() -> None:
    long = (replace(day, windows=((at(day.number, 5), at(day.number, 1438)),)) for day in YARD.days)
    problem = replace(YARD, days=tuple(long))
    slots = ShortSlots(problem, Limits(problem).reach, at(0, 700))
    of_first = [slots.all[index] for index in slots.of_day[0]]
    assert len(of_first) <= 43
    assert (of_first[0].first, of_first[-1].last) == (0, MINUTES_A_DAY - 1)
    assert all(one.last + 1 == other.first for one, other in pairwise(slots.all))


@pytest.mark.parametrize("places", [9, 12, 16])
def test_no_plan_strips_more_or_ends_on_a_day_that_is_missed(places: int) -> None:
    problem = yard(places)
    lap = first_lap(problem)
    for plan in Tries(Ground(problem, Limits(problem)), 0, lambda: False).openings():
        assert not lap.misses(problem.position(plan.score.finish))
        for minute in (at(day, of) for day in (1, 2, 4) for of in (490, 555, 601, 640, 799)):
            strips = ((turn.strip, turn.blocks) for turn in plan.state.turns)
            stripped = sum(blocks for strip, blocks in strips if strip is not None and strip.end <= minute)
            assert stripped <= lap.most_stripped(minute)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_plan_of_a_tiny_yard_ends_on_a_day_that_is_missed(seed: int) -> None:
    problem = tiny(seed)
    lap = first_lap(problem)
    ends = {problem.position(finish) for _, finish, *_ in tried(seed)}
    assert not any(lap.misses(position) for position in ends)
