"""How far stock goes: hand-checked on the plan of fifteen blocks.

8 bags are on hand and 6 come on Thursday 8 April; batches 1 to 4 take 3.5, 3, 2 and 2.5.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.left_over import left_over
from blockrun.planner.progress import Progress, Reserve
from blockrun.planner.saved import load_plan
from blockrun.site import ReleaseOil
from tests.yard.status.conftest import PLANS, POURED, Status


def cement(progress: Progress) -> Reserve:
    return next(reserve for reserve in progress.reserves if reserve.material == "cement")


def with_cement(plan: AsPlanned, **changed: object) -> AsPlanned:
    kept = plan.site.stock.cement.model_copy(update=changed)
    return replace(
        plan, site=plan.site.model_copy(update={"stock": plan.site.stock.model_copy(update={"cement": kept})})
    )


def test_what_is_there_and_comes_in_time_lasts(status: Status) -> None:
    found = cement(status("2027-04-05 12:00", POURED))
    assert (found.amount, found.used, found.out_on, found.missing) == (4.5, 7.5, None, 0)


def test_it_runs_out_on_the_day_that_takes_more(status: Status) -> None:
    found = cement(status("2027-04-05 12:00", POURED, "2027-04-05 11:00 counted cement 2"))
    assert (found.amount, found.out_on, found.missing) == (2, date(2027, 4, 6), 0)


def test_what_never_comes_is_missing_and_to_be_ordered_in_time(status: Status, small: AsPlanned) -> None:
    plan = with_cement(small, deliveries=(), lead_time_min=2 * 1440)
    found = cement(status("2027-04-05 12:00", POURED, plan=plan))
    assert (found.out_on, found.missing, found.order_by) == (date(2027, 4, 8), 3, date(2027, 4, 6))


def test_what_is_out_sooner_than_an_order_comes_is_ordered_at_once(status: Status, small: AsPlanned) -> None:
    plan = with_cement(small, deliveries=(), lead_time_min=2 * 1440)
    found = cement(status("2027-04-07 12:00", POURED, plan=plan))
    assert (found.order_by, found.at_once) == (date(2027, 4, 6), True)
    assert not cement(status("2027-04-06 12:00", plan=plan)).at_once


def test_what_is_out_before_the_next_delivery_is_ordered_for_that_day(status: Status, small: AsPlanned) -> None:
    some = small.site.stock.cement.deliveries[0].model_copy(update={"amount": 1.0})
    plan = with_cement(small, on_hand_bags=3.5, deliveries=(some,), lead_time_min=2 * 1440)
    found = cement(status("2027-04-05 12:00", POURED, plan=plan))
    assert (found.out_on, found.missing) == (date(2027, 4, 6), 6.5)
    assert (found.order_by, found.at_once) == (date(2027, 4, 2), True)


def test_what_is_out_today_is_ordered_at_once_whatever_it_takes_to_come(status: Status, small: AsPlanned) -> None:
    plan = with_cement(small, on_hand_bags=3.5, deliveries=())
    assert cement(status("2027-04-06 12:00", POURED, plan=plan)).at_once


def test_without_a_lead_time_no_day_to_order_is_told(status: Status, small: AsPlanned) -> None:
    assert cement(status("2027-04-05 12:00", POURED, plan=with_cement(small, deliveries=()))).order_by is None


def test_what_is_overdue_is_used_from_now_on(status: Status, small: AsPlanned) -> None:
    plan = with_cement(small, deliveries=())
    # batches 1 and 2 on Monday 12 April, and 3 on Tuesday, when 8 bags no longer do
    assert cement(status("2027-04-10 12:00", plan=plan)).out_on == date(2027, 4, 13)


def test_nothing_is_needed_for_what_is_poured(status: Status, small: AsPlanned) -> None:
    first = replace(small, casts=tuple(cast for cast in small.casts if cast.batch == 1))
    assert cement(status("2027-04-05 12:00", POURED, plan=first)).used == 0


def test_oil_is_needed_for_each_turn_that_is_not_begun(status: Status, small: AsPlanned) -> None:
    stock = small.site.stock.model_copy(update={"release_oil": ReleaseOil(per_turn_l=0.1, on_hand_l=1.0)})
    plan = replace(small, site=small.site.model_copy(update={"stock": stock}))
    turns = {(cast.mould, cast.turn) for cast in small.casts}
    begun = {(cast.mould, cast.turn) for cast in small.casts if cast.batch == 1}
    oil = status("2027-04-05 12:00", POURED, plan=plan).reserves[-1]
    assert (oil.material, oil.amount) == ("release oil", pytest.approx(1 - 0.1 * len(begun)))
    assert oil.used == pytest.approx(0.1 * len(turns - begun))


def with_oil(plan: AsPlanned) -> AsPlanned:
    stock = plan.site.stock.model_copy(update={"release_oil": ReleaseOil(per_turn_l=0.05, on_hand_l=5.0)})
    return replace(plan, site=plan.site.model_copy(update={"stock": stock}))


def test_filler_moulds_still_take_oil(status: Status) -> None:
    slabs = load_plan(PLANS / "slabs")
    filled = sum(len(left.fills) for left in left_over(slabs).batches.values())
    turns = slabs.tables.casts.groupby(["mould", "turn"]).ngroups
    found = status("2027-04-05 07:00", plan=with_oil(load_as_planned(PLANS / "slabs")))
    oil = next(reserve for reserve in found.reserves if reserve.material == "release oil")
    assert filled > 0
    assert oil.used == pytest.approx(0.05 * (turns + filled))


def test_what_stands_in_the_tank_is_not_needed_of_the_can(status: Status, small: AsPlanned) -> None:
    # all take 31.032390 L of dilution, 20 L of it are filled in for the first batch
    generator = small.site.foam_generator.model_copy(update={"tank_l": 20.0})
    plan = replace(small, site=small.site.model_copy(update={"foam_generator": generator}))
    found = status("2027-04-05 12:00", POURED, plan=plan)
    agent = next(reserve for reserve in found.reserves if reserve.material == "foaming agent")
    assert agent.used == pytest.approx(11.032390 / 41, abs=1e-6)
