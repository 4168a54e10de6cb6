"""Moulds that can be filled on a day."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.policy import Policy
from blockrun.optimiser.quick.shift import Shift
from blockrun.optimiser.quick.slots import Slots
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Batch, Turn
from tests.optimiser.small import BLOCK, LOAD, YARD, at

POLICY = Policy()
OF_ONE = BLOCK.volume


def slots(problem: Problem = YARD, policy: Policy = POLICY) -> Slots:
    yard = Yard(Ground(problem, Limits(problem)), None)
    return Slots(yard, Shift(problem.days[0], 1, chores=False), policy, Random(0))


def held(of: Slots) -> int:
    return sum(slot.cavities * OF_ONE for slot in of.of(LOAD, 0, 1 << 40))


def test_what_they_hold_at_the_most_is_what_all_hold_where_all_are_free() -> None:
    assert slots().most(0) == held(slots()) == 4 * OF_ONE


def test_moulds_that_come_free_only_after_closing_hold_nothing() -> None:
    of = slots()
    for _ in range(2):
        of.yard.units.take(0, 0)
    of.yard.units.mould_free(0, YARD.days[0].closes)
    assert of.most(0) == held(of) == 0
    of.yard.units.mould_free(0, YARD.days[0].closes - 1)
    assert of.most(0) == 2 * OF_ONE


def test_moulds_that_are_passed_over_hold_nothing() -> None:
    of = slots()
    of.close({0})
    assert of.most(0) == held(of) == 0


def test_only_so_many_hold_something_as_may_be_filled() -> None:
    of = slots()
    of.allow(0, 1)
    assert of.most(0) == held(of) == 2 * OF_ONE


def test_cavities_to_spare_of_one_begun_count() -> None:
    of = slots()
    turn = Turn(0, [(0, Batch(LOAD, at(0, 480), {0: 1}))])
    of.filling[id(turn)] = turn, 1
    assert of.most(0) == held(of) == 5 * OF_ONE


def test_a_policy_that_fills_them_in_part_has_them_hold_that() -> None:
    of = slots(policy=replace(POLICY, portion=0.5))
    assert of.most(0) == held(of) == 2 * OF_ONE
