"""Slabs of an order: how they are settled, what the problem makes of them, and plans that use them."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import pytest

from blockrun.errors import BadInput
from blockrun.order import BlockList, ListPart, ListRow, Order
from blockrun.planner.audit import audit
from blockrun.planner.brief import brief
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.sawing import Sawing, settle_sawing
from blockrun.planner.wanted import wanted
from blockrun.site import MouldKind, Saw, Site
from tests.planner.first import first_plan

SLAB = MouldKind(
    kind="slab",
    count=2,
    cavities=1,
    cavity=(1205.0, 605.0, 200.0),  # 145.8 L
    saw=Saw(kerf_mm=5.0, time_min=20),
    strip_time_min=10,
    clean_time_min=10,
)
"""Four blocks of 600 x 300 mm, with two cuts."""


@pytest.fixture
def yard(small_plan: Plan) -> Site:
    """The small yard, with slabs in place of its moulds, and cement and agent enough."""
    stock = small_plan.site.stock
    plenty = {
        "cement": stock.cement.model_copy(update={"on_hand_bags": 80.0}),
        "foaming_agent": stock.foaming_agent.model_copy(update={"on_hand_l": 20.0}),
    }
    return small_plan.site.model_copy(update={"moulds": (SLAB,), "stock": stock.model_copy(update=plenty)})


def ordered(order: Order, *blocks: tuple[str, float, float, int], spares: str = "0") -> Order:
    """An order of blocks 200 mm thick: mark, length, height and how many."""
    rows = tuple(ListRow(mark, length, height, 200.0, count, "light") for mark, length, height, count in blocks)
    parts = (ListPart(name="wall", blocks=BlockList("wall.csv", rows)),)
    return order.model_copy(update={"parts": parts, "spares": Decimal(spares)})


def settled(yard: Site, order: Order) -> Sawing:
    return settle_sawing(yard, order, wanted(yard, order))


def with_gang(yard: Site, small_plan: Plan) -> Site:
    """With the small yard's gang moulds beside the slabs: 600 x 300 x 200 mm and shorter."""
    return yard.model_copy(update={"moulds": (SLAB, small_plan.site.moulds[0])})


def test_blocks_that_only_slabs_give_take_the_fewest_slabs(yard: Site, small_plan: Plan) -> None:
    order = ordered(small_plan.order, ("A", 600.0, 300.0, 6), ("B", 295.0, 300.0, 4))
    (needed,) = settled(yard, order).needed
    assert sum(count for _, count in needed.slabs) == 2  # two B in the place of an A, four A a slab
    assert needed.proven
    assert needed.cost_l == pytest.approx(2 * 145.805)


def test_blocks_of_another_thickness_are_not_sawn_from_a_slab(yard: Site, small_plan: Plan) -> None:
    assert settled(yard, small_plan.order).slabs
    thin = yard.model_copy(update={"moulds": (SLAB.model_copy(update={"cavity": (1205.0, 605.0, 90.0)}),)})
    assert settled(thin, small_plan.order).slabs == ()


def test_what_other_moulds_cast_may_come_from_slabs_too_and_need_not(yard: Site, small_plan: Plan) -> None:
    order = ordered(small_plan.order, ("A", 600.0, 300.0, 6))
    both = settled(with_gang(yard, small_plan), order)
    assert both.needed == ()
    assert [list(slab.gives.values()) for slab in both.slabs] == [[4], [2]]  # six of them, and as many as go in


def test_what_is_left_of_a_slab_gives_blocks_that_other_moulds_cast(yard: Site, small_plan: Plan) -> None:
    """A is too high for the gang mould; beside one there is room for B, which is not."""
    order = ordered(small_plan.order, ("A", 600.0, 600.0, 1), ("B", 300.0, 300.0, 2))
    (needed,) = settled(with_gang(yard, small_plan), order).needed
    ((slab, count),) = needed.slabs
    assert count == 1
    assert {key[1]: number for key, number in slab.gives.items()} == {600.0: 1, 300.0: 2}


def test_no_more_of_a_block_is_sawn_from_a_slab_than_is_wanted(yard: Site, small_plan: Plan) -> None:
    order = ordered(small_plan.order, ("A", 200.0, 100.0, 3))
    assert all(sum(slab.gives.values()) <= 3 for slab in settled(yard, order).slabs)


def test_a_slab_gives_no_more_blocks_than_the_racks_have_places(yard: Site, small_plan: Plan) -> None:
    small = yard.model_copy(update={"racks": (yard.racks[0].model_copy(update={"places": 5}),)})
    order = ordered(small_plan.order, ("A", 200.0, 100.0, 30))
    assert max(len(slab.blocks) for slab in settled(small, order).slabs) == 5


def test_slabs_of_few_blocks_at_a_time_are_counted_as_many_as_it_takes(yard: Site, small_plan: Plan) -> None:
    small = yard.model_copy(update={"racks": (yard.racks[0].model_copy(update={"places": 6}),)})
    (needed,) = settled(small, ordered(small_plan.order, ("A", 200.0, 100.0, 30))).needed
    assert sum(count * len(slab.blocks) for slab, count in needed.slabs) == 30
    assert sum(count for _, count in needed.slabs) == 5
    assert not needed.proven


def test_a_slab_whose_blocks_can_never_be_moved_is_not_settled(yard: Site, small_plan: Plan) -> None:
    slow = yard.model_copy(update={"move_time_min": 600.0})
    assert settled(slow, ordered(small_plan.order, ("A", 600.0, 300.0, 6))) == Sawing((), ())


def test_one_more_mould_takes_no_good_slab_away(yard: Site, small_plan: Plan) -> None:
    """One each of four lengths go into one slab; a mould that casts them too is no reason to cast four slabs."""
    order = ordered(
        small_plan.order,
        *((mark, length, 300.0, 1) for mark, length in zip("ABCD", (600.0, 590.0, 580.0, 570.0), strict=True)),
    )
    more = settled(with_gang(yard, small_plan), order)
    assert more.needed == ()
    assert max(len(slab.blocks) for slab in more.slabs) == 4


@pytest.mark.parametrize("speck", [0.0, 0.004, 0.009, 0.04, 0.09])
def test_lengths_between_tenths_of_a_millimetre_are_sawn_as_the_audit_measures_them(
    yard: Site, small_plan: Plan, speck: float
) -> None:
    slab = SLAB.model_copy(update={"saw": Saw(kerf_mm=3.2 + speck, time_min=20)})
    site = yard.model_copy(update={"moulds": (slab,)})
    order = ordered(small_plan.order, ("A", 757.21 + speck, 300.0 + speck, 2), ("B", 301.0 - speck, 299.99, 3))
    plan = first_plan(site, order)
    assert audit(site, order, plan.tables, plan.stages, plan.totals) == []


def test_slabs_are_castings_of_the_problem_after_the_formats(yard: Site, small_plan: Plan) -> None:
    order = ordered(small_plan.order, ("A", 600.0, 300.0, 6), ("B", 300.0, 300.0, 4))
    asked = brief(with_gang(yard, small_plan), order, 60)
    problem = asked.problem
    assert [mould.name for mould in problem.moulds] == ["slab", "gang-2"]
    assert problem.moulds[0].casts == frozenset(range(2, 2 + len(problem.slabs)))
    assert problem.moulds[1].casts == {0, 1}
    assert problem.moulds[0].strip == 30
    assert {casting.volume for casting in problem.slabs} == {15_017_915}  # 145.805 L and 3 %
    assert Counter(block for casting in problem.slabs for block, _ in casting.gives).keys() == {0, 1}


@pytest.mark.parametrize("gang", [False, True])
def test_a_plan_with_slabs_passes_the_audit(yard: Site, small_plan: Plan, gang: bool) -> None:
    order = ordered(
        small_plan.order, ("A", 600.0, 300.0, 9), ("B", 450.0, 300.0, 5), ("C", 240.0, 190.0, 11), spares="0.1"
    )
    site = with_gang(yard, small_plan) if gang else yard
    plan = make_plan(site, order, rounds=0)
    assert audit(site, order, plan.tables, plan.stages, plan.totals) == []
    cast = Counter(plan.tables.casts["mark"])
    assert all(cast[mark] >= due for mark, due in {"A": 10, "B": 6, "C": 13}.items())
    sawn = plan.tables.sawing
    assert len(sawn) == plan.tables.casts["mould"].str.startswith("slab").sum() > 0


def test_a_slab_bigger_than_any_batch_is_told_at_its_cavity(yard: Site, small_plan: Plan) -> None:
    big = yard.model_copy(update={"moulds": (SLAB.model_copy(update={"cavity": (2000.0, 1000.0, 200.0)}),)})
    with pytest.raises(BadInput, match=r"(?s)one slab of slab takes 412 L with overfill.*only slabs give A"):
        make_plan(big, ordered(small_plan.order, ("A", 600.0, 300.0, 6)), rounds=0)


def test_blocks_come_from_the_gang_where_slabs_are_too_big_for_any_batch(yard: Site, small_plan: Plan) -> None:
    big = SLAB.model_copy(update={"cavity": (2000.0, 1000.0, 200.0)})
    site = yard.model_copy(update={"moulds": (big, small_plan.site.moulds[0])})
    plan = make_plan(site, ordered(small_plan.order, ("A", 600.0, 300.0, 3)), rounds=0)
    assert set(plan.tables.casts["mould"].str.split("/").str[0]) == {"gang-2"}
