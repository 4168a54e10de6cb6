"""What a plan says of itself."""

from datetime import date, datetime

import pytest
from written_plan import WrittenPlan

from blockrun.site import ReleaseOil, Sand


@pytest.mark.parametrize(
    ("stage", "value", "said"),
    [
        ("block_days_late", 1, "the number of block-days late is said to be 1, but the plan gives 2"),
        ("finish", date(2027, 4, 7), "the last pour is said to be 2027-04-07, but the plan gives 2027-04-06"),
        ("batches", 3, "the number of batches is said to be 3, but the plan gives 2"),
        ("cement", 149.0, "the cement in kg is said to be 149, but the plan gives 150"),
    ],
)
def test_a_wrong_value_is_found(plain, stage, value, said):
    plain.say(stage, value=value, proven=False)
    assert plain.said() == [said]


@pytest.mark.parametrize(
    ("stage", "bound"), [("block_days_late", 3), ("finish", date(2027, 4, 7)), ("batches", 3), ("cement", 151.0)]
)
def test_better_than_the_best_possible_is_found(plain, stage, bound):
    plain.say(stage, bound=bound, proven=False)
    assert plain.broken() == [("bound not passed", stage)]


@pytest.mark.parametrize("stage", ["block_days_late", "finish", "cement"])
def test_proven_without_an_equal_bound_is_found(plain, stage):
    plain.say(stage, proven=True)
    assert plain.broken() == [("proven when equal", stage)]


def test_an_equal_bound_that_is_not_called_proven_is_found(plain):
    plain.say("batches", proven=False)
    assert plain.said() == ["the number of batches is said to be not proven, with 2 reached and 2 best possible"]


def test_a_stage_left_out_is_found(plain):
    plain.stages = plain.stages[:3]
    assert plain.broken() == [("four stages", "stages")]


@pytest.mark.parametrize(
    ("stage", "value"),
    [
        ("finish", "2027-04-06"),
        ("finish", datetime(2027, 4, 6)),  # noqa: DTZ001
        ("finish", None),
        ("batches", None),
        ("batches", float("nan")),
        ("batches", True),
        ("cement", "150"),
    ],
)
def test_a_value_of_another_kind_is_found(plain, stage, value):
    plain.say(stage, value=value)
    assert plain.broken() == [("four stages", stage)]


@pytest.mark.parametrize(
    "name",
    [
        "blocks",
        "spares",
        "batches",
        "cement_kg",
        "cement_bags",
        "water_kg",
        "agent_l",
        "cost",
        "thrown_away_l",
        "days_of_pouring",
    ],
)
@pytest.mark.parametrize("change", ["more", "missing", "empty"])
def test_a_wrong_total_is_found(plain, name, change):
    if change == "missing":
        del plain.totals[name]
    else:
        plain.totals[name] = None if change == "empty" else plain.totals[name] + 1
    assert plain.broken() == [("plan totals", f"totals {name}")]


def test_a_cost_without_prices_is_found(based):
    based.totals["cost"] = 12.0
    assert based.said() == ["in all, cost: 12 is said, but the plan gives none"]


def stocked(plan: WrittenPlan, **stock: object) -> None:
    told = plan.site.stock.model_copy(update=stock)
    plan.site = plan.site.model_copy(update={"stock": told})


def of_cost(plan: WrittenPlan, cost: float) -> list[str]:
    plan.totals["cost"] = cost
    return [said for said in plan.said() if said.startswith("in all, cost")]


def test_oil_with_a_price_costs_too(plain):
    """Two turns, 50 mL each at 3.00 a litre."""
    stocked(plain, release_oil=ReleaseOil(per_turn_l=0.05, price=3.0))
    assert of_cost(plain, 41.23) == []
    assert of_cost(plain, 40.93) == ["in all, cost: 40.93 is said, but the plan gives 41.23"]
    assert of_cost(plain, 41.5) == ["in all, cost: 41.5 is said, but the plan gives 41.23"]


def test_of_filler_moulds_the_audit_knows_only_how_often_they_may_be_oiled(plain):
    """Of two moulds at the most twice each: 4 x 0.15."""
    stocked(plain, release_oil=ReleaseOil(per_turn_l=0.05, price=3.0))
    filler = plain.site.moulds[0].model_copy(update={"kind": "small", "filler": True})
    plain.site = plain.site.model_copy(update={"moulds": (*plain.site.moulds, filler)})
    assert of_cost(plain, 41.23) == of_cost(plain, 41.83) == []
    assert of_cost(plain, 41.9) == ["in all, cost: 41.9 is said, but the plan gives 41.23 to 41.83"]


def test_sand_with_a_price_costs_too_with_the_water_it_is_bought_with(plain):
    """Half of 150 kg of cement, and 4 % of it water: 78 kg at 0.05."""
    stocked(plain, sand=Sand(moisture=0.04, price=0.05))
    (mix,) = plain.order.mixes
    plain.order = plain.order.model_copy(update={"mixes": (mix.model_copy(update={"sand": 0.5}),)})
    (said,) = of_cost(plain, 0.0)
    with_sand = float(said.rpartition(" ")[2])
    stocked(plain, sand=Sand(moisture=0.04))
    (said,) = of_cost(plain, 0.0)
    assert with_sand - float(said.rpartition(" ")[2]) == pytest.approx(3.90)
