"""How many batches a day holds, by hand: from 480 to 600 and from 620 to 800, twenty minutes each."""

from __future__ import annotations

from dataclasses import replace

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.slots import Stretch
from tests.optimiser.small import LOAD, OPENS, YARD, at

SLOW = replace(LOAD, cement=3, room=300, pour=15)


def manage(problem: Problem, loads: list[int]) -> bool:
    """Whether one day's mixers manage batches of these loads."""
    limits = Limits(problem)
    return all(ceiling.holds(loads) for ceiling in limits.mixing.ceilings(limits.slots.day(0)))


def test_a_day_holds_six_batches_before_the_break_and_nine_after() -> None:
    limits = Limits(YARD)
    assert limits.mixing.batches_of(limits.slots.day(0), 0) == 6 + 9
    assert manage(YARD, [0] * 15)
    assert not manage(YARD, [0] * 16)


def test_a_stretch_holds_what_ends_in_it() -> None:
    # pours that end from 500 to 540
    assert Limits(YARD).mixing.batches_of(Stretch(0, at(0, OPENS + 20), at(0, OPENS + 60)), 0) == 3
    assert Limits(YARD).mixing.batches_of(Stretch(0, at(0, OPENS), at(0, OPENS + 19)), 0) == 0


def test_every_size_of_a_mixer_counts_as_its_shortest() -> None:
    sizes = replace(YARD, loads=(LOAD, SLOW))
    assert manage(sizes, [0] * 7 + [1] * 8)
    assert not manage(sizes, [0] * 8 + [1] * 8)


def test_two_mixers_hold_twice_as_many_as_far_as_the_one_generator_foams() -> None:
    two = replace(YARD, loads=(LOAD, replace(LOAD, mixer=1)))
    assert manage(two, [0, 1] * 15)
    slow_foam = replace(two, loads=tuple(replace(load, slurry=0, foam=10) for load in two.loads))
    assert not manage(slow_foam, [0, 1] * 20)
