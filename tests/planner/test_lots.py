"""The batch that first draws another lot; numbers to check by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any

from blockrun.planner.begun import Begun
from blockrun.planner.begun.facts import Coming, MaterialBegun
from blockrun.planner.lots import Draw, lots_drawn, new_lots
from blockrun.planner.plan import Plan
from blockrun.planner.supplies import Supply, supplies_of
from blockrun.site import AgentDelivery, CementDelivery

MON, TUE, WED, THU = (date(2027, 4, day) for day in range(5, 9))
DRAWS = [Draw(1, MON, 3.0), Draw(2, TUE, 3.0), Draw(3, TUE, 3.0), Draw(4, THU, 3.0)]


def drawn(*supplies: tuple[date | None, float, str]) -> list[tuple[str, int, bool]]:
    """Lot, batch, and whether it is sure."""
    found = lots_drawn("cement", [Supply(*one) for one in supplies], DRAWS)
    return [(new.supply.lot, new.batch, new.is_sure) for new in found]


def test_old_stock_is_used_up_before_another_lot_is_drawn() -> None:
    assert drawn((None, 6.0, "A1"), (MON, 10.0, "B7")) == [("B7", 3, True)]


def test_a_batch_that_takes_the_last_of_one_lot_and_some_of_another_is_the_first_of_it() -> None:
    assert drawn((None, 5.0, "A1"), (MON, 10.0, "B7")) == [("B7", 2, True)]


def test_more_of_the_same_lot_asks_for_nothing_nor_does_one_drawn_before() -> None:
    assert drawn((None, 3.0, "A1"), (MON, 20.0, "A1")) == []
    assert drawn((None, 3.0, "A1"), (MON, 3.0, "B7"), (TUE, 9.0, "A1")) == [("B7", 2, True)]


def test_a_lot_that_is_never_drawn_asks_for_nothing() -> None:
    assert drawn((None, 12.0, "A1"), (MON, 10.0, "B7")) == []


def test_nothing_of_a_lot_is_drawn_before_it_comes() -> None:
    """Where the foam that is weighed overdraws what is there, that is short, and not yet of what comes later."""
    assert drawn((None, 5.0, "A1"), (THU, 10.0, "B7")) == [("B7", 4, True)]
    assert drawn((None, 5.0, "A1"), (date(2027, 4, 9), 10.0, "B7")) == []


def test_without_names_each_delivery_may_be_another_lot() -> None:
    assert drawn((None, 3.0, ""), (TUE, 3.0, ""), (TUE, 20.0, "")) == [("", 2, False), ("", 3, False)]


def test_a_lot_beside_one_without_a_name_is_not_sure() -> None:
    assert drawn((None, 3.0, ""), (TUE, 20.0, "B7")) == [("B7", 2, False)]
    assert drawn((None, 3.0, "A1"), (TUE, 20.0, "")) == [("", 2, False)]


def test_where_nothing_is_on_hand_the_first_to_come_may_be_another() -> None:
    assert drawn((MON, 20.0, "B7")) == [("B7", 1, False)]


def stocked(plan: Plan, material: str, **changes: Any) -> Plan:
    kept = getattr(plan.site.stock, material).model_copy(update=changes)
    stock = plan.site.stock.model_copy(update={material: kept})
    return replace(plan, site=plan.site.model_copy(update={"stock": stock}))


def cement(plan: Plan, *deliveries: tuple[date, float, str]) -> Plan:
    comes = tuple(CementDelivery(day=day, amount=bags, lot=lot) for day, bags, lot in deliveries)
    return stocked(plan, "cement", lot="A1", deliveries=comes)


def test_a_plan_knows_the_day_and_the_batch(small_plan: Plan) -> None:
    # 8 bags on hand; batches of 3 1/2, 3, 2 and 2 1/2 bags: the third takes 1/2 bag of what came
    (new,) = [new for new in new_lots(cement(small_plan, (THU, 6.0, "B7"))) if new.material == "cement"]
    assert (new.supply.lot, new.day, new.batch, new.is_sure) == ("B7", THU, 3, True)


def test_agent_has_lots_of_its_own(small_plan: Plan) -> None:
    comes = (AgentDelivery(day=TUE, amount=2.0, lot="F2"),)
    plan = stocked(small_plan, "foaming_agent", on_hand_l=0.3, lot="F1", deliveries=comes)
    (new,) = [new for new in new_lots(plan) if new.material == "foaming agent"]
    assert (new.supply.lot, new.batch, new.is_sure) == ("F2", 2, True)


def test_foam_weighed_draws_of_a_lot_too(small_plan: Plan) -> None:
    """0.2629, 0.2287, 0.1602 and 0.1051 L with the bucket of each batch: 0.5 L do two, 0.48 L not quite."""
    comes = (AgentDelivery(day=TUE, amount=2.0, lot="F2"),)
    for on_hand, first in ((0.5, 3), (0.48, 2)):
        plan = stocked(small_plan, "foaming_agent", on_hand_l=on_hand, lot="F1", deliveries=comes)
        (new,) = [new for new in new_lots(plan) if new.material == "foaming agent"]
        assert new.batch == first


def test_two_lots_of_one_day_are_two_supplies_in_the_order_of_the_file(small_plan: Plan) -> None:
    plan = cement(small_plan, (THU, 1.0, "B8"), (THU, 2.0, "B7"), (THU, 3.0, "B8"))
    supplies = supplies_of(plan.site.stock, "cement")
    assert supplies == (Supply(None, 8.0, "A1"), Supply(THU, 4.0, "B8"), Supply(THU, 2.0, "B7"))


def test_what_a_count_missed_was_of_the_oldest_lot_and_what_it_found_is_no_new_one(small_plan: Plan) -> None:
    # 8 bags of A1 are on hand; batches of 3 1/2, 3, 2 and 2 1/2 bags
    missing = MaterialBegun(on_hand=8, missing=(Coming(day=MON, amount=2),))
    found = MaterialBegun(on_hand=3.5, found=(Coming(day=MON, amount=4),))
    for recorded, first in ((missing, 2), (found, 3)):
        plan = stocked(cement(small_plan, (TUE, 6.0, "B7")), "cement", on_hand_bags=recorded.on_hand)
        begun = Begun(since=datetime.fromisoformat("2027-04-05T18:00"), recorded={"cement": recorded})
        (new,) = [new for new in new_lots(replace(plan, begun=begun)) if new.material == "cement"]
        assert (new.supply.lot, new.batch) == ("B7", first)
