"""Sets of test cubes in a plan: one for each lot, out of the room of its batches."""

from __future__ import annotations

import dataclasses
import itertools
import re
from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pandas as pd
import pytest

from blockrun.errors import BadInput
from blockrun.order import BlockList, ListPart, ListRow, Order
from blockrun.planner.audit import audit
from blockrun.planner.brief import brief
from blockrun.planner.cubes import few_at_an_age
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan, save_plan
from blockrun.site import CementDelivery, CubeSets, MouldKind, Saw, Site
from tests.planner.first import first_plan

DAY_MIN = 1440


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


def with_sets(yard: Site, **fields: object) -> Site:
    assert yard.test_cubes
    return yard.model_copy(update={"test_cubes": yard.test_cubes.model_copy(update=fields)})


def ordered(order: Order, *rows: tuple[float, int]) -> Order:
    """Blocks of so many millimetres of length, so many of each."""
    listed = tuple(ListRow(f"A{n}", length, 300.0, 200.0, count, "light") for n, (length, count) in enumerate(rows))
    parts = (ListPart(name="wall", blocks=BlockList("wall.csv", listed)),)
    return order.model_copy(update={"parts": parts, "spares": Decimal(0)})


def planned(site: Site, order: Order) -> Plan:
    """A plan that the audit passes."""
    plan = make_plan(site, order, rounds=0)
    assert audit(site, order, plan.tables, plan.stages, plan.totals) == []
    return plan


def sets_by_day(plan: Plan) -> list[int]:
    """Sets of each day of pouring."""
    batches, cubes = plan.tables.batches, plan.tables.cubes
    of_batch = cubes.groupby("batch")["set"].nunique().reindex(batches["batch"], fill_value=0).to_numpy()
    return list(pd.Series(of_batch).groupby(batches["start"].dt.date.to_numpy()).sum())


def made_by_day(plan: Plan) -> list[float]:
    batches = plan.tables.batches
    return list(batches.groupby(batches["start"].dt.date)["yield_l"].sum())


def begun(made_l: Iterable[float], lot_l: float) -> list[int]:
    """Lots begun on each day."""
    by_day = [0, *(-int(-total // lot_l) for total in itertools.accumulate(made_l))]
    return [b - a for a, b in itertools.pairwise(by_day)]


def test_a_lot_is_counted_in_steps_of_cement(yard: Site, small_plan: Plan) -> None:
    cubes = brief(yard, ordered(small_plan.order, (600, 4)), 60).problem.cubes
    assert cubes is not None
    # light holds 500 kg in a cubic metre, so half a bag of 25 kg makes 25 L, and 300 L take 12 of them
    assert [round(lot, 6) for lot in cubes.lots] == [Fraction(12)]
    assert cubes.volume == 1_042_875  # 3 x 3.375 L and 3 %


@pytest.mark.parametrize("lot_l", [100.0, 170.0, 300.0, 5000.0])
def test_as_many_sets_are_cast_on_a_day_as_lots_begin_on_it(yard: Site, small_plan: Plan, lot_l: float) -> None:
    plan = planned(with_sets(yard, every_l=lot_l), ordered(small_plan.order, (600, 16)))
    assert sets_by_day(plan) == begun(made_by_day(plan), lot_l)


def test_small_lots_give_several_sets_of_one_batch(yard: Site, small_plan: Plan) -> None:
    plan = planned(with_sets(yard, every_l=60.0, size_mm=100.0), ordered(small_plan.order, (600, 8)))
    assert plan.tables.cubes["batch"].value_counts().max() > 1
    assert sum(sets_by_day(plan)) == sum(begun(made_by_day(plan), 60.0))


def test_each_day_of_pouring_gives_a_set_where_lots_are_days(yard: Site, small_plan: Plan) -> None:
    plan = planned(with_sets(yard, every_l="day"), ordered(small_plan.order, (600, 16)))
    assert sets_by_day(plan) == [1] * len(made_by_day(plan))
    assert len(made_by_day(plan)) > 1


def test_the_first_day_after_a_delivery_gives_a_set(yard: Site, small_plan: Plan) -> None:
    site = with_sets(yard, every_l="delivery")
    first, second, *_ = sorted({*planned(site, ordered(small_plan.order, (600, 16))).tables.batches["start"].dt.date})
    cement = site.stock.cement.model_copy(update={"deliveries": (CementDelivery(day=second, amount=10.0),)})
    site = site.model_copy(update={"stock": site.stock.model_copy(update={"cement": cement})})
    plan = planned(site, ordered(small_plan.order, (600, 24)))
    giving = plan.tables.batches.set_index("batch").loc[plan.tables.cubes["batch"], "start"].dt.date
    assert list(giving) == [first, second]
    assert len(made_by_day(plan)) > 2


def test_without_them_no_batch_gives_any(small_plan: Plan) -> None:
    plan = make_plan(small_plan.site, small_plan.order, rounds=0)
    assert plan.tables.cubes.empty


def test_a_set_finds_its_room_in_another_batch_than_the_blocks_that_leave_none(yard: Site, small_plan: Plan) -> None:
    """A block of 36 L and 5 a batch leave 10.6 L of 196; nine cubes of 150 mm take 31.3."""
    site = with_sets(yard, count=9, every_l="day")
    order = ordered(small_plan.order, (600, 7))
    plan = planned(site, order)
    assert len(plan.tables.cubes) == len(made_by_day(plan))


def slabs_of(yard: Site) -> Site:
    """The yard with slab moulds alone: 180.75 L, 186.2 with overfill, of the 196 L that the biggest batch has."""
    slab = MouldKind(
        kind="slab",
        count=1,
        cavities=1,
        cavity=(1205.0, 750.0, 200.0),
        saw=Saw(kerf_mm=5.0, time_min=20),
        strip_time_min=10,
        clean_time_min=10,
    )
    return yard.model_copy(update={"moulds": (slab,)})


def test_cubes_have_a_batch_of_their_own_where_every_other_is_full(yard: Site, small_plan: Plan) -> None:
    plan = planned(slabs_of(yard), ordered(small_plan.order, (600, 4)))
    giving = set(plan.tables.cubes["batch"])
    assert giving
    assert not giving & set(plan.tables.casts["batch"])


def test_a_set_that_no_batch_holds_is_refused_at_its_count(yard: Site, small_plan: Plan) -> None:
    with pytest.raises(BadInput, match=r"a set of test cubes takes 208\.6 L with overfill, and the biggest batch"):
        make_plan(with_sets(yard, count=60), ordered(small_plan.order, (600, 4)), rounds=0)


def test_lots_that_are_all_cubes_are_refused(yard: Site, small_plan: Plan) -> None:
    with pytest.raises(BadInput, match=r"leaves nothing to pour of a lot of 10 L of light"):
        make_plan(with_sets(yard, every_l=10.0), ordered(small_plan.order, (600, 4)), rounds=0)


def test_the_table_tells_marks_and_working_days_to_crush(yard: Site, small_plan: Plan) -> None:
    site = with_sets(yard, crush_at_min=(5 * DAY_MIN, 28 * DAY_MIN))
    plan = planned(site, ordered(small_plan.order, (600, 4)))
    cubes = plan.tables.cubes
    assert list(cubes["marked"]) == ["1-1", "1-2 to 1-3"]
    assert list(cubes["cubes"]) == [1, 2]
    assert cubes["volume_l"].sum() == pytest.approx(10.42875)
    cast = plan.tables.batches["start"].dt.date.min()
    days = [(day - cast).days for day in cubes["crush"].dt.date]
    assert days[1] == 28
    assert [site.calendar.is_working(day) for day in cubes["crush"].dt.date] == [True, True]
    assert days[0] >= 5


def saved(plan: Plan, folder: Path) -> str:
    save_plan(plan, folder)
    return (folder / "cubes.csv").read_text(encoding="utf-8")


def with_cubes(plan: Plan, **cells: object) -> Plan:
    row = {"batch": 1, "cubes": 3, "volume_l": 3.09, "set": 1, "marked": "1-1 to 1-3"} | cells
    cubes = pd.DataFrame([row]).astype(plan.tables.cubes.dtypes.to_dict())
    return dataclasses.replace(plan, tables=dataclasses.replace(plan.tables, cubes=cubes))


def test_marks_and_days_to_crush_are_saved_and_read_again(small_plan: Plan, tmp_path: Path) -> None:
    plan = with_cubes(small_plan, crush=pd.Timestamp("2027-05-03"))
    assert saved(plan, tmp_path / "plan") == (
        "batch,cubes,volume_l,set,marked,crush\n1,3,3.09,1,1-1 to 1-3,2027-05-03\n"
    )
    pd.testing.assert_frame_equal(load_plan(tmp_path / "plan").tables.cubes, plan.tables.cubes)


def test_sets_that_take_much_of_the_mix_are_said(yard: Site, small_plan: Plan) -> None:
    order = ordered(small_plan.order, (600, 8))
    (much,) = (said for said in first_plan(with_sets(yard, every_l=40.0), order).warnings if "test_cubes" in said)
    assert re.fullmatch(
        r"test_cubes: (\d+) sets, (\d+) cubes, from \d+ batches, take \d\d % of all that is poured\. "
        r"Is every, 40 L, as you meant it\?",
        much,
    )


@pytest.mark.parametrize("every", [5000.0, "day"])
def test_sets_that_take_little_are_not(yard: Site, small_plan: Plan, every: float | str) -> None:
    few = with_sets(yard, every_l=every, size_mm=100.0)
    plan = first_plan(few, ordered(small_plan.order, (600, 8)))
    assert not [said for said in plan.warnings if "test_cubes" in said]


@pytest.mark.parametrize(
    ("count", "ages", "said"),
    [(3, (7, 28), "1 at 7 d, 2 at 28 d"), (2, (7, 28), "1 at 7 d, 1 at 28 d"), (1, (28,), "1 at 28 d")],
)
def test_one_cube_alone_at_an_age_is_called_a_hint(count: int, ages: tuple[int, ...], said: str) -> None:
    (line,) = few_at_an_age(CubeSets(every_l="day", count=count, crush_at_min=tuple(day * 1440 for day in ages)))
    assert f"of the {count} cubes of a set are crushed {said}. One cube alone is a hint" in line
    assert f"count: {2 * len(ages)} gives two at each age" in line


@pytest.mark.parametrize(("count", "ages"), [(4, (7, 28)), (1, ())])
def test_two_at_each_age_or_no_age_at_all_need_no_word(count: int, ages: tuple[int, ...]) -> None:
    assert (
        list(few_at_an_age(CubeSets(every_l="day", count=count, crush_at_min=tuple(day * 1440 for day in ages)))) == []
    )
