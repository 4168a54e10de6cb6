"""The page of materials says what the terminal says, and has a box for each delivery."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime

import pytest

from blockrun.files.day_names import day_name
from blockrun.planner.begun import Begun
from blockrun.planner.plan import Plan
from blockrun.show.materials_said import MaterialsSaid
from blockrun.show.page import GLUE
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.materials import materials_page
from blockrun.show.paper.size import Paper
from blockrun.site import MassDelivery, ReleaseOil, Sand, Solid
from tests.show.paper.conftest import Printed


def with_stock(plan: Plan, units: str = "SI", **stock: object) -> Plan:
    kept = plan.site.stock.model_copy(update=stock)
    return replace(plan, site=plan.site.model_copy(update={"stock": kept, "units": units}))


def with_lead_time(plan: Plan, days: int) -> Plan:
    cement = plan.site.stock.cement.model_copy(update={"lead_time_min": 1440 * days})
    return with_stock(plan, cement=cement)


def text_of(plan: Plan, printed: Printed, paper: Paper = Paper.A4) -> str:
    return " ".join(printed(*materials_page(Asked(plan)), paper=paper))


def test_every_page_has_the_cautions_at_its_foot(demo_plan: Plan, printed: Printed) -> None:
    assert all("Fresh mix burns skin and eyes" in page for page in printed(*materials_page(Asked(demo_plan))))


@pytest.mark.parametrize("paper", list(Paper))
def test_all_that_the_terminal_says_stands_on_the_page(demo_plan: Plan, printed: Printed, paper: Paper) -> None:
    text, said = text_of(demo_plan, printed, paper), MaterialsSaid(demo_plan)
    lines = [*said.sums(), *said.cost(), *(line for one in said.counted for line in said.stock(one))]
    for line in lines:
        assert line.replace(GLUE, " ") in text
    for row in said.table():
        assert " ".join(cell.replace(GLUE, " ") for cell in row if cell) in text


def test_each_delivery_that_is_needed_is_to_be_ordered_in_time(demo_plan: Plan, printed: Printed) -> None:
    plan = with_lead_time(demo_plan, 5)
    said, to_order = MaterialsSaid(plan), text_of(plan, printed).partition("Cement: what")[0]
    covers = [cover for cover in said.covers["cement"] if cover.supply.day]
    assert any(cover.needed for cover in covers)
    for cover in covers:
        days = (cover.order_by, cover.needed, cover.supply.day)
        row = f"{said.amount('cement', cover.supply.amount)} of cement".replace(GLUE, " ")
        if cover.needed:
            by, needed, comes = (day_name(day) for day in days if day)
            assert f"{by} {row} {needed} {comes}" in to_order
        else:
            assert row not in to_order


def test_an_order_that_is_late_already_says_so(demo_plan: Plan, printed: Printed) -> None:
    assert "before the plan starts" in text_of(with_lead_time(demo_plan, 40), printed)


def test_of_a_plan_made_anew_it_says_which_orders_are_late_and_asks_for_none_of_what_has_come(small_plan: Plan) -> None:
    plan = with_lead_time(small_plan, 2)

    def to_order(since: str) -> list[tuple[str, str]]:
        (sheet,) = materials_page(Asked(replace(plan, begun=Begun(since=datetime.fromisoformat(since)))))
        return [(row["by"], row["late"]) for row in sheet.data["deliveries"]]

    assert to_order("2027-04-06T18:00") == [("Tue 6 Apr", "")]
    assert to_order("2027-04-07T07:00")[0][1] == "gone by: if it was not ordered, order at once"
    assert to_order("2027-04-08T07:00") == []


def test_without_a_lead_time_it_is_asked_for(demo_plan: Plan, printed: Printed) -> None:
    text = text_of(demo_plan, printed)
    assert re.search(r"Write lead_time under cement.* in stock to be told when to order\.", text)


def test_what_is_short_is_said_first(small_plan: Plan, printed: Printed) -> None:
    oil = ReleaseOil(per_turn_l=0.05, on_hand_l=0.1)
    text = text_of(with_stock(small_plan, release_oil=oil), printed)
    assert "of release oil more must come by" in text.partition("what is there")[0]


def test_what_no_delivery_covers_is_to_be_ordered_and_ticked(small_plan: Plan) -> None:
    oil = ReleaseOil(per_turn_l=0.05, on_hand_l=0.1, lead_time_min=1440)
    (sheet,) = materials_page(Asked(with_stock(small_plan, release_oil=oil)))
    (row,) = (row for row in sheet.data["deliveries"] if "oil" in row["what"])
    assert re.fullmatch(r"\d+ mL more of release oil", row["what"])
    assert (row["by"], row["needed"], row["comes"]) == ("Fri 2 Apr", "Mon 5 Apr", "no delivery is written")


def test_many_materials_lie_on_a_page_on_its_side(small_plan: Plan, printed: Printed) -> None:
    comes = (MassDelivery(day=date(2027, 4, 8), amount=80.0),)
    solids = {"sand": Sand(on_hand_kg=5000.0, deliveries=comes), "lime": Solid(on_hand_kg=12000.0)}
    plan = with_stock(small_plan, "US", **solids, release_oil=ReleaseOil(per_turn_l=0.05, on_hand_l=5))
    mixes = [mix.model_copy(update={"sand": 0.5, "lime": 0.1}) for mix in plan.order.mixes]
    plan = replace(plan, order=plan.order.model_copy(update={"mixes": tuple(mixes)}))
    (sheet,) = materials_page(Asked(plan))
    assert sheet.data["sideways"]
    assert "sand left lime left agent left oil left" in text_of(plan, printed, Paper.LETTER)
