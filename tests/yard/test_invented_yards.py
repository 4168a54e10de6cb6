"""Yards of every kind: the plan is played as it is, and however much goes wrong the rules are kept."""

from __future__ import annotations

from datetime import date

import pytest

from blockrun.order import Order
from blockrun.planner import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.risk.rates import Rates
from blockrun.site import Site, Weather
from blockrun.yard.given import setting_of
from tests.yard.rules import breaches, told
from tests.yards import a_yard
from tests.yards_more import a_yard_with_a_stack, a_yard_with_more

RUNS = 4


def quick_plan(site: Site, order: Order) -> Plan:
    return make_plan(site, order, rounds=0)


def check(plan: Plan, harsh: Rates, none: Rates) -> None:
    setting = setting_of(plan, harsh)
    calm = told(plan, setting, none, 0, 0)
    late, finish, batches, _ = (stage.value for stage in plan.stages)
    assert isinstance(finish, date)
    assert (calm.outcome.block_days, calm.outcome.batches, calm.outcome.never) == (late, batches, 0)
    assert calm.outcome.last_pour == (finish - plan.site.calendar.start).days
    assert breaches(calm) == []
    for number in range(RUNS):
        assert breaches(told(plan, setting, harsh, 1, number)) == []


@pytest.mark.parametrize("seed", [0, 1, 3, 4, 7])
def test_a_yard(seed: int, harsh: Rates, none: Rates) -> None:
    yard = a_yard(seed)
    check(quick_plan(yard.site, yard.order), harsh, none)


@pytest.mark.parametrize("seed", [0, 1, 2, 4, 8, 15])
def test_a_yard_with_keys_that_may_be_left_out(seed: int, harsh: Rates, none: Rates) -> None:
    yard = a_yard_with_more(seed)
    check(quick_plan(yard.site, yard.order), harsh, none)


@pytest.mark.parametrize("seed", [2, 4, 9, 12])
def test_a_yard_with_a_small_stack(seed: int, harsh: Rates, none: Rates) -> None:
    yard = a_yard_with_a_stack(seed)
    check(quick_plan(yard.site, yard.order), harsh, none)


def test_a_yard_whose_blocks_have_a_warmth_of_their_own(small_plan: Plan, harsh: Rates, none: Rates) -> None:
    site = small_plan.site
    curing = site.curing.model_copy(update={"heat": "modelled", "least_air_c": -20.0})
    weather = Weather(site.calendar.start, ((6.0, 10.0),) * 7)
    warm = site.model_copy(update={"curing": curing, "weather": weather})
    check(quick_plan(warm, small_plan.order), harsh, none)
