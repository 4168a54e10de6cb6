"""A trial is asked for at the head of the day on which another lot is first drawn, and beside its delivery."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from blockrun.planner.lots import NewLot
from blockrun.planner.plan import Plan
from blockrun.planner.supplies import Supply
from blockrun.show.days import days_text
from blockrun.show.lots import trial_asked
from blockrun.show.materials import materials_text
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.day_page import day_pages
from blockrun.site import AgentDelivery
from tests.planner.test_lots import cement, stocked

THU = date(2027, 4, 8)


def plainly(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").split())


def test_the_head_of_the_day_asks_for_a_trial_of_another_lot(small_plan: Plan) -> None:
    plan = cement(small_plan, (THU, 6.0, "B7"))
    asked = "TRIAL before the first batch, looked at after an hour: cement of another lot (B7) from batch 3."
    assert asked in plainly(days_text(plan, 80, THU, THU).plain)
    assert "TRIAL" not in days_text(plan, 80, date(2027, 4, 5), date(2027, 4, 6)).plain


CAN = "TRIAL can be made today, looked at after an hour: cement of another lot (B7) from batch 3 on Thu 8 Apr."


@pytest.mark.parametrize(
    ("comes", "told"),
    [
        (date(2027, 4, 6), [date(2027, 4, 6)]),
        (THU, []),
    ],
)
def test_a_day_between_the_delivery_and_its_first_batch_has_time_for_the_trial(
    small_plan: Plan, comes: date, told: list[date]
) -> None:
    plan = cement(small_plan, (comes, 6.0, "B7"))
    days = (date(2027, 4, day) for day in range(5, 10))
    assert [day for day in days if CAN in plainly(days_text(plan, 80, day, day).plain)] == told


def test_what_comes_on_a_day_off_is_tried_on_the_first_day_of_work(small_plan: Plan) -> None:
    plan = cement(small_plan, (date(2027, 4, 6), 6.0, "B7"))
    closed = plan.site.calendar.model_copy(update={"closed": frozenset({date(2027, 4, 6)})})
    plan = replace(plan, site=plan.site.model_copy(update={"calendar": closed}))
    wednesday = date(2027, 4, 7)
    assert CAN in plainly(days_text(plan, 80, wednesday, wednesday).plain)
    (page,) = day_pages(asked := Asked(plan, wednesday, wednesday), asked.days[0])
    assert CAN in [plainly(said) for said in page.data["days"][0]["warnings"]]


def test_a_day_on_which_foam_that_is_weighed_takes_more_agent_than_is_there_says_so(small_plan: Plan) -> None:
    """0.2629 and 0.2287 L on Mon and Tue with the bucket of each batch: 0.48 L are 11.6 mL short."""
    plan = stocked(small_plan, "foaming_agent", on_hand_l=0.48, deliveries=(AgentDelivery(day=THU, amount=2.0),))
    said = (
        "FOAMING AGENT SHORT: 11.6 mL is missing for the bucket of foam weighed before each batch. Have more there by "
        "opening, or weigh less foam."
    )
    days = [date(2027, 4, day) for day in range(5, 10)]
    told = [day for day in days if said in plainly(days_text(plan, 80, day, day).plain)]
    assert told == [days[1]]
    (page,) = day_pages(asked := Asked(plan, told[0], told[0]), asked.days[0])
    assert said in [plainly(said) for said in page.data["days"][0]["warnings"]]


def test_materials_name_the_lot_and_the_trial(small_plan: Plan) -> None:
    said = plainly(materials_text(cement(small_plan, (THU, 6.0, "B7")), 120).plain)
    assert "8 bags on hand, lot A1: gives out on Thu 8 Apr" in said
    assert "6 bags on Thu 8 Apr, lot B7: needed by Thu 8 Apr, trial before batch 3, lasts to the last pour" in said
    same = plainly(materials_text(cement(small_plan, (THU, 6.0, "A1")), 120).plain)
    assert "trial before batch 3" not in same


@pytest.mark.parametrize(
    ("lot", "said"),
    [
        ("", "cement delivered Thu 8 Apr, from batch 3."),
        ("B7", "cement delivered Thu 8 Apr (B7), from batch 3."),
    ],
)
def test_a_delivery_that_may_be_of_another_lot_asks_if_it_is(lot: str, said: str) -> None:
    new = NewLot("cement", Supply(THU, 6.0, lot), 3, THU, is_sure=False)
    assert (
        plainly(trial_asked(new))
        == f"TRIAL before the first batch, looked at after an hour, if it is of another lot: {said}"
    )
