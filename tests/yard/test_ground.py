"""A small stack in the middle of a run: what has room, by hand, and runs that wait for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from blockrun.planner import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.risk.rates import Rates
from blockrun.site import Stack
from blockrun.yard.given import setting_of
from blockrun.yard.ground import Ground
from blockrun.yard.setting import Setting
from tests.planner.why.by_hand import GANG, a_site, an_order
from tests.yard.rules import told


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Four blocks of one mark, needed on day 24: poured on Monday and Tuesday, off the rack on days 2 and 3."""
    return make_plan(a_site(stack=Stack(places=1, layers=4)), an_order(4, date(2027, 4, 29)), rounds=0)


@pytest.fixture(scope="module")
def one_mark(plan: Plan, none: Rates) -> Setting:
    return setting_of(plan, none)


TWO = [(0, 7), (0, 7)]


def test_blocks_keep_their_room_up_to_the_day_they_are_needed(one_mark: Setting) -> None:
    ground = Ground(one_mark, Stack(places=1, layers=3))
    assert ground.has_room(TWO, 2)
    ground.put(TWO, 2)
    assert not ground.has_room(TWO, 24)
    assert ground.has_room(TWO, 25)
    assert ground.has_room([(0, 7)], 2)


def test_asking_takes_no_room(one_mark: Setting) -> None:
    ground = Ground(one_mark, Stack(places=1, layers=2))
    assert ground.has_room(TWO, 2)
    assert ground.has_room(TWO, 2)


def test_blocks_that_nobody_asked_for_by_a_day_are_laid_when_they_are_ready(one_mark: Setting) -> None:
    nobody = replace(one_mark, needs=((),))
    ground = Ground(nobody, Stack(places=1, layers=2))
    ground.put(TWO, 2)
    assert not ground.has_room(TWO, 7)
    assert ground.has_room(TWO, 8)


def test_columns_are_of_one_size_and_mix(one_mark: Setting) -> None:
    two_marks = replace(one_mark, marks=("A", "B"), needs=(one_mark.needs[0],) * 2)
    alike, apart = (replace(two_marks, formats=formats) for formats in ((0, 0), (0, 1)))
    for setting, room in ((alike, True), (apart, False)):
        ground = Ground(setting, Stack(places=1, layers=4))
        ground.put(TWO, 2)
        assert ground.has_room([(1, 7)], 2) == room


def test_a_plan_whose_strips_wait_for_the_stack_is_played_as_it_is(none: Rates) -> None:
    plan = make_plan(a_site(stack=Stack(places=1, layers=4)), an_order(8, date(2027, 4, 29)), rounds=0)
    calm = told(plan, setting_of(plan, none), none, 0, 0).outcome
    assert calm.block_days == plan.stages[0].value == 2 * 1 + 2 * 7


def test_on_a_smaller_stack_than_planned_strips_wait_and_blocks_are_late(
    plan: Plan, one_mark: Setting, none: Rates
) -> None:
    """The second pair is stripped on the 29th, leaves the rack on the 30th, and is a day late."""
    small = replace(one_mark, stack=Stack(places=1, layers=2))
    late = [told(plan, setting, none, 0, 0).outcome.block_days for setting in (one_mark, small)]
    assert late == [0, 2]


def test_no_more_is_poured_again_into_a_mould_than_an_empty_stack_holds(none: Rates) -> None:
    """A mould of six, and a stack of four."""
    site = a_site(stack=Stack(places=2, layers=2), moulds=(GANG.model_copy(update={"cavities": 6}),))
    plan = make_plan(site, an_order(4, date(2027, 4, 29)), rounds=0)
    assert setting_of(plan, none).kinds[0].cavities == 4
