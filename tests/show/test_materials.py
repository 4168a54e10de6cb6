"""What a plan takes, as it prints and as a list; the golden files are read when they change."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BadPlan
from blockrun.planner.begun import Begun
from blockrun.planner.begun.facts import BatchPoured, Coming, MaterialBegun
from blockrun.planner.begun.site import site_begun
from blockrun.planner.plan import Plan
from blockrun.show.materials import materials_list, materials_text
from blockrun.site import AgentDelivery, MassDelivery, ReleaseOil, Sand


def with_stock(plan: Plan, **stock: Any) -> Plan:
    site = plan.site.model_copy(update={"stock": plan.site.stock.model_copy(update=stock)})
    return replace(plan, site=site)


def lead_time(plan: Plan, material: str, days: int) -> Any:
    return getattr(plan.site.stock, material).model_copy(update={"lead_time_min": 1440 * days})


@pytest.fixture
def sandy(small_plan: Plan) -> Plan:
    """Half sand to cement in the light mix, sand that comes too late, too little oil, and lead times."""
    comes = (MassDelivery(day=date(2027, 4, 8), amount=80.0),)
    plan = with_stock(
        small_plan,
        cement=lead_time(small_plan, "cement", 1),
        sand=Sand(on_hand_kg=50.0, deliveries=comes, price=0.05, lead_time_min=1440),
        release_oil=ReleaseOil(per_turn_l=0.05, on_hand_l=0.2, price=3.0, lead_time_min=1440),
    )
    mixes = (mix.model_copy(update={"sand": 0.5 if mix.name == "light" else 0.0}) for mix in plan.order.mixes)
    return replace(plan, order=plan.order.model_copy(update={"mixes": tuple(mixes)}))


@pytest.mark.parametrize("width", [40, 80, 120])
def test_materials_with_sand_and_oil(sandy: Plan, golden: SnapshotAssertion, width: int) -> None:
    text = materials_text(sandy, width).plain
    assert max(map(len, text.split("\n"))) <= width
    assert text == golden


def test_materials_of_the_demo(demo_plan: Plan, golden: SnapshotAssertion) -> None:
    assert materials_text(demo_plan, 80).plain == golden


def test_materials_in_us_units(sandy: Plan, golden: SnapshotAssertion) -> None:
    us = replace(sandy, site=sandy.site.model_copy(update={"units": "US"}))
    assert materials_text(us, 40).plain == golden


def test_of_several_orders_the_one_soonest_due_is_next(small_plan: Plan) -> None:
    both = with_stock(
        small_plan,
        cement=lead_time(small_plan, "cement", 1),
        foaming_agent=lead_time(small_plan, "foaming_agent", 2).model_copy(update={"on_hand_l": 0.5}),
    )
    said = materials_text(both, 200).plain.split("\n")
    assert "order next: 2 L of foaming agent, by Tue 6 Apr, to be there on Thu 8 Apr" in said
    sooner = with_stock(both, cement=lead_time(small_plan, "cement", 3))
    said = materials_text(sooner, 200).plain.split("\n")
    assert "order next: 6 bags of cement, by Mon 5 Apr, to be there on Thu 8 Apr" in said


def test_an_order_due_before_the_plan_starts_is_said_to_be(small_plan: Plan) -> None:
    text = materials_text(with_stock(small_plan, cement=lead_time(small_plan, "cement", 5)), 200).plain
    assert "order next: 6 bags of cement, by Fri 2 Apr, before the plan starts, to be there on Thu 8 Apr" in text


def test_a_missing_price_is_named_and_nothing_is_said_to_cost(small_plan: Plan) -> None:
    stock = small_plan.site.stock
    free = with_stock(
        small_plan,
        cement=stock.cement.model_copy(update={"price": None}),
        foaming_agent=stock.foaming_agent.model_copy(update={"price": None}),
    )
    text = materials_text(free, 200).plain
    assert "Not known: no price of cement and foaming agent is written under stock." in text
    assert " each, " not in text


def test_tables_that_were_changed_are_said_first(small_plan: Plan) -> None:
    assert materials_text(small_plan, 80, ["casts.csv was changed"]).plain.split("\n")[1] == "casts.csv was changed"


def test_the_list_has_a_row_a_day_in_the_units_its_columns_name(sandy: Plan) -> None:
    first, *_, last = csv.DictReader(materials_list(sandy).splitlines())
    assert (first["day"], last["day"]) == ("2027-04-05", "2027-04-08")
    assert {name: last[name] for name in last if name.startswith(("cement", "sand", "release"))} == {
        "cement_used_bags": "4.5",
        "cement_delivered_bags": "6",
        "cement_left_bags": "3",
        "sand_used_kg": "25",
        "sand_delivered_kg": "80",
        "sand_left_kg": "23.75",
        "release_oil_used_l": "0.15",
        "release_oil_delivered_l": "0",
        "release_oil_left_l": "-0.25",
    }
    assert "water_left_l" not in last


def test_what_has_a_price_is_told_where_another_has_none(small_plan: Plan) -> None:
    stock = small_plan.site.stock
    half = with_stock(small_plan, foaming_agent=stock.foaming_agent.model_copy(update={"price": None}))
    text = materials_text(half, 200).plain
    assert "Not in it: no price of foaming agent is written under stock." in text
    assert re.search(r"at least \d+\.\d\d in all: \d+\.\d\d for cement; water", text)


def test_a_lead_time_is_asked_for_by_name_and_only_where_one_is_missing(small_plan: Plan) -> None:
    """Six bags of cement come on Thu 8 Apr, and no agent is needed but what is on hand."""
    asked = "Write lead_time under cement in stock to be told when to order."
    assert asked in materials_text(small_plan, 200).plain
    enough = small_plan.site.stock.cement.model_copy(update={"on_hand_bags": 50.0})
    text = materials_text(with_stock(small_plan, cement=enough), 200).plain
    assert "lead_time" not in text
    assert "nothing has to be ordered: what is on hand is enough" in text


def with_agent(plan: Plan, on_hand_l: float, *comes_l: float) -> str:
    """What is said of materials with so much agent on hand, and so much coming on Thursday."""
    agent = plan.site.stock.foaming_agent
    comes = tuple(AgentDelivery(day=date(2027, 4, 8), amount=litres) for litres in comes_l)
    agent = agent.model_copy(update={"on_hand_l": on_hand_l, "deliveries": comes})
    return materials_text(with_stock(plan, foaming_agent=agent), 400).plain.replace("\u00a0", " ")


def test_agent_for_foam_weighed_is_a_line_of_its_own(small_plan: Plan) -> None:
    """10 L of 95 g/L at 1:40 are 23.17 mL of agent and 0.927 L of water: four times that."""
    assert (
        "  of it to weigh foam, a bucket of 10 L before each of 4 batches, thrown away: 3.71 L of water and 92.7 mL of "
        "foaming agent\n"
    ) in with_agent(small_plan, 2.0)


def test_agent_that_is_enough_for_the_foam_alone_is_not_called_enough(small_plan: Plan) -> None:
    """Batches take 664 mL, foam weighed 93 mL: of 700 mL nothing is left on Thursday, with 57 mL to come."""
    text = with_agent(small_plan, 0.7)
    assert "  700 mL on hand: gives out on Thu 8 Apr" in text
    assert "56.9 mL of foaming agent more must come by Thu 8 Apr." in text
    assert "2 L on Thu 8 Apr: needed by Thu 8 Apr" in with_agent(small_plan, 0.7, 2.0)


def test_a_delivery_without_which_little_is_left_is_to_be_kept(small_plan: Plan) -> None:
    """757 mL are used: a twentieth of that is 38 mL."""
    close = with_agent(small_plan, 0.79, 2.0)
    assert "not needed by the plan, but keep it: without it, 33.1 mL left, less than 5 % to spare" in close
    assert "790 mL on hand: lasts to the last pour, 33.1 mL left\n" in close
    assert "2 L on Thu 8 Apr: not needed for this order" in with_agent(small_plan, 0.8, 2.0)


def test_where_no_more_comes_little_to_spare_is_said_of_what_lasts(small_plan: Plan) -> None:
    assert "lasts to the last pour, 33.1 mL left, less than 5 % to spare" in with_agent(small_plan, 0.79)
    assert "lasts to the last pour, 43.1 mL left\n" in with_agent(small_plan, 0.8)


def test_no_order_is_called_needless_where_one_is_to_be_kept(small_plan: Plan) -> None:
    cement = small_plan.site.stock.cement.model_copy(update={"on_hand_bags": 50.0, "deliveries": ()})
    plan = with_stock(small_plan, cement=cement)
    assert "what is on hand is enough\n" in with_agent(plan, 0.8, 2.0)
    assert "ordered by a day; keep what is marked so below\n" in with_agent(plan, 0.79, 2.0)


def test_the_list_has_a_column_for_agent_in_foam_weighed(small_plan: Plan) -> None:
    first, *_, last = csv.DictReader(materials_list(small_plan).splitlines())
    # batch 1: 0.239753 L and 0.95 / 41 L; Thursday has two batches, 0.137002 and 0.081948 L
    assert (first["foaming_agent_used_l"], first["foaming_agent_to_weigh_foam_l"]) == ("0.262924", "0.023171")
    assert (last["foaming_agent_used_l"], last["foaming_agent_to_weigh_foam_l"]) == ("0.265291", "0.046341")


def test_foam_weighed_before_batches_poured_is_taken_off_once(small_plan: Plan) -> None:
    # 2 L were counted after the first batch, which took 0.239753 L and a bucket of 0.95 / 41 L
    before = BatchPoured(
        number=1, plan="", was=1, mixer="drum", mix="light", bags=3.5, poured=datetime.fromisoformat("2027-04-05T08:24")
    )
    agent = MaterialBegun(on_hand=2 + 0.239753 + 0.95 / 41)
    facts = Begun(
        since=datetime.fromisoformat("2027-04-05T18:00"), batches=(before,), recorded={"foaming agent": agent}
    )
    plan = replace(small_plan, site=site_begun(small_plan.site, facts), begun=facts)
    first = next(csv.DictReader(materials_list(plan).splitlines()))
    assert float(first["foaming_agent_left_l"]) == pytest.approx(2)
    assert "left: cement 4 1/2 bags, agent 2 L" in " ".join(materials_text(plan, 40).plain.split())


def test_stock_of_days_gone_by_is_told_as_it_was_counted_and_came(small_plan: Plan) -> None:
    # 8 bags of C1; batches take 3 1/2 on Monday and 3 on Tuesday, when 10 of C2 came; then 1/2 a bag less is counted
    tue = date(2027, 4, 6)
    cement = MaterialBegun(
        on_hand=8,
        came=(Coming(day=tue, amount=10, lot="C2"),),
        found=(Coming(day=date(2027, 4, 5), amount=1, lot="C1"),),
        missing=(Coming(day=tue, amount=0.5),),
    )
    facts = Begun(since=datetime.fromisoformat("2027-04-06T18:00"), recorded={"cement": cement})
    plan = replace(small_plan, site=site_begun(with_lot(small_plan, "C1").site, facts), begun=facts)
    text = " ".join(materials_text(plan, 40).plain.split())
    assert re.search(r"Mon 5 Apr 3 1/2 bags of cement, .*; left: cement 5 1/2 bags", text)
    assert re.search(r"Tue 6 Apr \+10 bags of cement; 3 bags of cement, .*; left: cement 12 bags", text)
    assert "8 bags on hand at the start, lot C1: " in text
    assert "1 bag more than the books had on Mon 5 Apr, lot C1: " in text
    assert "10 bags there since Tue 6 Apr, lot C2: " in text
    assert "1/2 bag less than the books had on Tue 6 Apr" in text
    rows = list(csv.DictReader(materials_list(plan).splitlines()))
    assert [(row["cement_delivered_bags"], row["cement_left_bags"]) for row in rows[:2]] == [("0", "5.5"), ("10", "12")]


def with_lot(plan: Plan, lot: str) -> Plan:
    return with_stock(plan, cement=plan.site.stock.cement.model_copy(update={"lot": lot}))


def ordered(plan: Plan, since: str) -> str:
    """What is said once a plan was made anew at a moment; cement takes two days to come."""
    late = with_stock(plan, cement=lead_time(plan, "cement", 2))
    facts = Begun(since=datetime.fromisoformat(since))
    return " ".join(materials_text(replace(late, begun=facts), 200).plain.split())


def test_what_should_have_been_ordered_by_a_day_gone_by_is_said_to_be_late(small_plan: Plan) -> None:
    assert "order next: 6 bags of cement, by Tue 6 Apr, to be there on Thu 8 Apr" in ordered(
        small_plan, "2027-04-06T18:00"
    )
    text = ordered(small_plan, "2027-04-07T07:00")
    late = "should have been ordered by Tue 6 Apr: if it was not, order at once"
    assert f"order next: 6 bags of cement, to be there on Thu 8 Apr, {late}" in text
    assert f"6 bags on Thu 8 Apr: needed by Thu 8 Apr, {late}" in text


def test_what_has_come_is_not_to_be_ordered(small_plan: Plan) -> None:
    text = ordered(small_plan, "2027-04-08T18:00")
    assert "6 bags there since Thu 8 Apr: drawn from Thu 8 Apr on" in text
    assert "nothing has to be ordered" in text
    assert "by Tue 6 Apr" not in text


@pytest.mark.parametrize(
    ("table", "column", "old", "new", "said"),
    [
        ("casts", "mark", "full", "fool", "blocks are of fool of mix light"),
        ("batches", "mixer", "drum", "pan", "a batch is of mixer pan"),
        ("batches", "mix", "light", "lean", "a batch is of mix lean"),
    ],
)
def test_tables_that_do_not_fit_together_are_told(
    small_plan: Plan, table: str, column: str, old: str, new: str, said: str
) -> None:
    frame = getattr(small_plan.tables, table).replace({column: {old: new}})
    changed = replace(small_plan, tables=replace(small_plan.tables, **{table: frame}))
    for shown in (lambda: materials_text(changed, 80), lambda: materials_list(changed)):
        with pytest.raises(BadPlan, match=f"do not fit together: {said}, which it lacks"):
            shown()
