"""Sets of test cubes in a plan: given by one batch of a mix on the days that owe one, out of its room."""

from __future__ import annotations

from decimal import Decimal

import pytest

from blockrun.errors import BadInput
from blockrun.order import BlockList, ListPart, ListRow, Order
from blockrun.planner.audit import audit
from blockrun.planner.brief import brief
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.site import CubeSets, MouldKind, Saw, Site


@pytest.fixture
def yard(small_plan: Plan) -> Site:
    """The small yard with cement and agent enough, that casts a set of three cubes for each 300 L."""
    stock = small_plan.site.stock
    plenty = {
        "cement": stock.cement.model_copy(update={"on_hand_bags": 80.0}),
        "foaming_agent": stock.foaming_agent.model_copy(update={"on_hand_l": 20.0}),
    }
    sets = CubeSets(every_l=300.0, count=3, size_mm=150.0)
    return small_plan.site.model_copy(update={"stock": stock.model_copy(update=plenty), "test_cubes": sets})


def ordered(order: Order, count: int) -> Order:
    rows = (ListRow("A", 600.0, 300.0, 200.0, count, "light"),)
    parts = (ListPart(name="wall", blocks=BlockList("wall.csv", rows)),)
    return order.model_copy(update={"parts": parts, "spares": Decimal(0)})


def test_a_lot_is_counted_in_steps_of_cement(yard: Site, small_plan: Plan) -> None:
    cubes = brief(yard, ordered(small_plan.order, 4), 60).problem.cubes
    assert cubes is not None
    # light holds 500 kg in a cubic metre, so half a bag of 25 kg makes 25 L, and 300 L take 12 of them
    assert cubes.lots == (12,)
    assert cubes.volume == 1_042_875  # 3 x 3.375 L and 3 %


def test_the_first_day_gives_a_set_and_then_each_lot(yard: Site, small_plan: Plan) -> None:
    order = ordered(small_plan.order, 20)
    plan = make_plan(yard, order, rounds=0)
    assert audit(yard, order, plan.tables, plan.stages, plan.totals) == []
    given, batches = plan.tables.cubes, plan.tables.batches
    by_day = batches.groupby(batches["start"].dt.normalize())["yield_l"].sum()
    days = batches.set_index("batch").loc[given["batch"], "start"].dt.normalize()
    assert days.is_unique
    since, due = 300.0, 0
    for made in by_day:
        due += since >= 300.0
        since = made if since >= 300.0 else since + made
    assert len(given) == due >= 2
    assert set(given["volume_l"]) == {10.42875}


def test_without_them_no_batch_gives_any(small_plan: Plan) -> None:
    plan = make_plan(small_plan.site, small_plan.order, rounds=0)
    assert plan.tables.cubes.empty


def test_a_block_and_a_set_too_big_together_for_any_batch_are_refused(yard: Site, small_plan: Plan) -> None:
    many = yard.model_copy(update={"test_cubes": CubeSets(every_l=300.0, count=60, size_mm=150.0)})
    with pytest.raises(BadInput, match="test cubes"):
        make_plan(many, ordered(small_plan.order, 4), rounds=0)


def test_days_that_make_more_than_a_lot_are_said(yard: Site, small_plan: Plan) -> None:
    often = yard.model_copy(update={"test_cubes": CubeSets(every_l=50.0, count=1, size_mm=100.0)})
    plan = make_plan(often, ordered(small_plan.order, 8), rounds=0)
    assert any("more is made than a lot of 50 L" in said for said in plan.warnings)


def test_a_slab_that_leaves_no_room_for_a_set_is_told_at_its_cavity(yard: Site, small_plan: Plan) -> None:
    slab = MouldKind(
        kind="slab",
        count=1,
        cavities=1,
        cavity=(1205.0, 750.0, 200.0),  # 180.75 L, 186.2 with overfill: the biggest batch has 196
        saw=Saw(kerf_mm=5.0, time_min=20),
        strip_time_min=10,
        clean_time_min=10,
    )
    site = yard.model_copy(update={"moulds": (slab,)})
    with pytest.raises(BadInput, match=r"one slab of slab takes .* with overfill and a set of test cubes"):
        make_plan(site, ordered(small_plan.order, 4), rounds=0)
    assert make_plan(site.model_copy(update={"test_cubes": None}), ordered(small_plan.order, 4), rounds=0)
