"""What blocks cost in materials; on a plan small enough to be checked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.planner.costs import Costs, costs_of, total_cost, without_price
from blockrun.planner.plan import Plan
from blockrun.planner.supplies import materials_of
from blockrun.planner.uses import AGENT, WATER, uses_of
from blockrun.site import ReleaseOil

# light: 8.5 bags and 0.582257 L of agent for 7 of 36 L, 3 of 17.4 L and 3 of 18 L, 358.2 L together
# heavy: 2.5 bags and 0.081948 L for 2 of 36 L
# three batches of the one, one of the other, and before each 0.95 L of foam is weighed, one part in 41 of it agent
WEIGHED = 0.95 / 41 * 9.50
LIGHT, HEAVY = 8.5 * 6.10 + 0.582257 * 9.50 + 3 * WEIGHED, 2.5 * 6.10 + 0.081948 * 9.50 + WEIGHED


def costs(plan: Plan) -> Costs:
    uses = uses_of(plan)
    return costs_of(plan, uses, materials_of(plan.site, uses))


def with_oil(plan: Plan, price: float | None) -> Plan:
    stock = plan.site.stock.model_copy(update={"release_oil": ReleaseOil(per_turn_l=0.05, price=price)})
    return replace(plan, site=plan.site.model_copy(update={"stock": stock}))


def test_all_materials_together_cost_and_come_to_what_the_plan_says_in_all(small_plan: Plan) -> None:
    assert costs(small_plan).total == pytest.approx(small_plan.totals["cost"], abs=0.005)
    for material, total in ((AGENT, "agent_l"), (WATER, "water_kg")):
        used = sum(use.amount for use in uses_of(small_plan) if use.material == material)
        assert used == pytest.approx(small_plan.totals[total], abs=1e-6)
    assert costs(small_plan).by_material == pytest.approx(
        {"cement": 67.10, "foaming agent": 6.30995 + 0.88049}, abs=1e-4
    )


def test_the_total_of_a_plan_is_that_of_all_materials_with_a_price(small_plan: Plan) -> None:
    """Nine turns of 50 mL of oil at 3.00 a litre are 1.35 on top of 74.29; without a price of cement there is none."""
    assert total_cost(small_plan) == 74.29
    assert total_cost(with_oil(small_plan, 3.00)) == 75.64
    assert total_cost(with_oil(small_plan, None)) == 74.29
    cement = small_plan.site.stock.cement.model_copy(update={"price": None})
    stock = small_plan.site.stock.model_copy(update={"cement": cement})
    assert total_cost(replace(small_plan, site=small_plan.site.model_copy(update={"stock": stock}))) is None


def test_a_block_pays_for_its_share_of_its_mix_by_volume(small_plan: Plan) -> None:
    each = {mark.mark: mark.each for mark in costs(small_plan).marks}
    assert each == pytest.approx(
        {"full": LIGHT * 36 / 358.2, "half": LIGHT * 17.4 / 358.2, "thin": LIGHT * 18 / 358.2, "sill": HEAVY / 2}
    )


def test_blocks_of_all_marks_together_cost_as_much_as_all_materials(small_plan: Plan) -> None:
    found = costs(with_oil(small_plan, 3.00))
    assert sum(mark.each * mark.blocks for mark in found.marks) == pytest.approx(found.total)
    assert found.by_material["release oil"] == pytest.approx(9 * 0.05 * 3.00)


def test_a_cubic_metre_and_a_block_are_of_all_blocks_spares_among_them(small_plan: Plan) -> None:
    found = costs(small_plan)
    assert found.blocks == 15
    assert found.volume_l == pytest.approx(430.2)
    assert found.a_m3 == pytest.approx((LIGHT + HEAVY) / 0.4302)
    assert found.a_block == pytest.approx((LIGHT + HEAVY) / 15)


def test_what_has_no_price_is_named_water_left_out(small_plan: Plan) -> None:
    assert without_price(materials_of(small_plan.site, uses_of(small_plan))) == ()
    oiled = with_oil(small_plan, None)
    assert without_price(materials_of(oiled.site, uses_of(oiled))) == ("release oil",)
