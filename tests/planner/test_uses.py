"""What a plan uses up, and when; on a plan small enough to be checked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest

from blockrun.mix.dilution import tank_of
from blockrun.planner.begun.facts import BatchPoured, Begun
from blockrun.planner.left_over import left_over
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from blockrun.planner.uses import tank_fills, uses_of
from blockrun.site import ReleaseOil, Sand

PLANS = Path(__file__).parents[1] / "plans"
MON, TUE, THU = date(2027, 4, 5), date(2027, 4, 6), date(2027, 4, 8)


def used(plan: Plan, material: str, *, weighed: bool = False) -> dict[tuple[date, str], float]:
    """Amounts of a material by day and mix that go into batches, or into foam that is weighed."""
    sums: dict[tuple[date, str], float] = {}
    for use in uses_of(plan):
        if use.material == material and use.weighed == weighed:
            sums[use.day, use.mix] = sums.get((use.day, use.mix), 0.0) + use.amount
    return sums


def with_sand(plan: Plan) -> Plan:
    """Half a kilogram of sand to one of cement in the light mix."""
    mixes = (mix.model_copy(update={"sand": 0.5 if mix.name == "light" else 0.0}) for mix in plan.order.mixes)
    return replace(plan, order=plan.order.model_copy(update={"mixes": tuple(mixes)}))


def with_oil(plan: Plan) -> Plan:
    stock = plan.site.stock.model_copy(update={"release_oil": ReleaseOil(per_turn_l=0.05)})
    return replace(plan, site=plan.site.model_copy(update={"stock": stock}))


def test_cement_is_counted_in_bags_by_day_and_mix(small_plan: Plan) -> None:
    assert used(small_plan, "cement") == {
        (MON, "light"): 3.5,
        (TUE, "light"): 3,
        (THU, "light"): 2,
        (THU, "heavy"): 2.5,
    }


def test_water_and_agent_by_day_are_those_of_the_table_of_materials(small_plan: Plan) -> None:
    table = small_plan.tables.materials
    for material, column in (("water", "water_used_kg"), ("foaming agent", "agent_used_l")):
        by_day: dict[date, float] = {}
        for (day, _), amount in used(small_plan, material).items():
            by_day[day] = by_day.get(day, 0.0) + amount
        saved = {day.date(): amount for day, amount in zip(table["day"], table[column], strict=True)}
        assert by_day == pytest.approx(saved, abs=3e-6)


def test_each_batch_takes_agent_and_water_for_a_bucket_of_foam_that_is_weighed(small_plan: Plan) -> None:
    # 10 L of 95 g/L are 0.95 L of dilution, 1:40: 0.0231707 L of agent and 0.9268293 L of water
    by_day = {
        (MON, "light"): 0.0231707,
        (TUE, "light"): 0.0231707,
        (THU, "light"): 0.0231707,
        (THU, "heavy"): 0.0231707,
    }
    assert used(small_plan, "foaming agent", weighed=True) == pytest.approx(by_day, abs=1e-7)
    assert used(small_plan, "water", weighed=True) == pytest.approx(dict.fromkeys(by_day, 0.9268293), abs=1e-7)


def test_foam_weighed_comes_out_of_the_tank_too(small_plan: Plan) -> None:
    """20 L do the first batch, 10.78 L with its bucket, and 9.22 L of the 9.38 L of the second: it is filled again."""
    generator = small_plan.site.foam_generator.model_copy(update={"tank_l": 20.0})
    tank = replace(small_plan, site=small_plan.site.model_copy(update={"foam_generator": generator}))
    fills = [fill for _, fill in tank_fills(tank, tank_of(generator))]
    # 9.829861 + 8.425595 + 5.617063 + 3.359871 + 4 x 0.95 = 31.032390
    assert fills == [(20.0,), (pytest.approx(10.779861),), (), (pytest.approx(0.252529),)]
    assert sum(used(tank, "foaming agent", weighed=True).values()) == pytest.approx(4 * 0.95 / 41)
    assert sum(used(tank, "foaming agent").values()) == pytest.approx(27.232390 / 41)


def test_sand_goes_with_the_cement_of_its_mix(small_plan: Plan) -> None:
    # half of 3.5, 3 and 2 bags of 25 kg
    assert used(with_sand(small_plan), "sand") == pytest.approx(
        {(MON, "light"): 43.75, (TUE, "light"): 37.5, (THU, "light"): 25.0}
    )
    assert used(small_plan, "sand") == {}


def test_sand_is_counted_as_damp_as_it_is_bought(small_plan: Plan) -> None:
    plan = with_sand(small_plan)
    stock = plan.site.stock.model_copy(update={"sand": Sand(moisture=0.04)})
    damp = replace(plan, site=plan.site.model_copy(update={"stock": stock}))
    assert used(damp, "sand")[MON, "light"] == pytest.approx(1.04 * 43.75)


def test_oil_is_counted_by_the_turn_on_the_day_of_its_pour_and_of_no_mix(small_plan: Plan) -> None:
    # three moulds are filled on each of the three days
    assert used(with_oil(small_plan), "release oil") == pytest.approx(
        {(MON, ""): 0.15, (TUE, ""): 0.15, (THU, ""): 0.15}
    )


def test_no_oil_is_counted_where_the_site_tells_of_none(small_plan: Plan) -> None:
    assert used(small_plan, "release oil") == {}


def test_filler_moulds_take_oil_each_time_they_are_filled() -> None:
    plan = load_plan(PLANS / "slabs")
    turns = plan.tables.casts.groupby(["mould", "turn"]).ngroups
    filled = sum(len(left.fills) for left in left_over(plan).batches.values())
    assert filled > 0
    assert sum(used(with_oil(plan), "release oil").values()) == pytest.approx(0.05 * (turns + filled))


def test_of_batches_poured_before_only_what_was_recorded_takes_oil() -> None:
    plan = load_plan(PLANS / "slabs")
    poured = [number for number, left in left_over(plan).batches.items() if left.fills][:1]
    at = datetime.fromisoformat("2027-04-05T09:00")
    before = tuple(
        BatchPoured(number=number, plan="", was=1, mixer="drum", mix="light", bags=1, poured=at) for number in poured
    )
    anew = replace(plan, begun=Begun(since=at, batches=before))
    more = sum(used(with_oil(plan), "release oil").values()) - sum(used(with_oil(anew), "release oil").values())
    assert more == pytest.approx(0.05 * len(left_over(plan).batches[poured[0]].fills))
