from __future__ import annotations

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.optimiser.sawing.grid import best_plan
from blockrun.optimiser.sawing.plan import Piece, SawPlan, Slab
from blockrun.optimiser.sawing.rests import Rest, filled, rests, trimmed
from tests.optimiser.sawing.by_hand import Size, faults

SIZES = [(30, 20), (10, 10)]


def test_an_empty_slab_is_one_rest_a_blade_longer_and_higher() -> None:
    assert list(rests(Slab(100, 50), 4, [])) == [Rest(0, 0, 104, 54)]


def test_a_slab_that_is_all_pieces_has_no_rest() -> None:
    assert list(rests(Slab(64, 20), 4, [Piece(0, 0, 0, 30, 20), Piece(0, 34, 0, 30, 20)])) == []


def test_the_largest_strip_comes_off_first() -> None:
    assert list(rests(Slab(100, 50), 0, [Piece(0, 0, 0, 30, 20)])) == [Rest(30, 0, 70, 50), Rest(0, 20, 30, 30)]


def test_a_gap_between_pieces_is_a_rest_too() -> None:
    assert list(rests(Slab(90, 20), 0, [Piece(0, 0, 0, 30, 20), Piece(0, 60, 0, 30, 20)])) == [Rest(30, 0, 30, 20)]


def test_pieces_beyond_what_is_wanted_are_left_out_from_the_far_end() -> None:
    plan = SawPlan((Piece(0, 0, 0, 30, 20), Piece(1, 30, 0, 10, 10), Piece(0, 40, 0, 30, 20)))
    assert trimmed(plan, {0: 1, 1: 5}) == SawPlan(plan.pieces[:2])


def test_rests_are_filled_with_no_more_than_is_wanted() -> None:
    plan = SawPlan((Piece(0, 0, 0, 30, 20),))
    assert filled(Slab(60, 20), 0, SIZES, plan, {1: 4}, [0.0, 1.0]).gives() == {0: 1, 1: 4}


def test_what_one_item_leaves_free_is_filled_with_the_next() -> None:
    full = filled(Slab(60, 20), 0, SIZES, SawPlan(()), {0: 1, 1: 9}, [600.0, 100.0])
    assert full.gives() == {0: 1, 1: 6}


@given(
    st.integers(10, 50), st.integers(10, 50), st.integers(0, 3),
    st.lists(st.tuples(st.integers(3, 20), st.integers(3, 20)), min_size=2, max_size=4), st.data(),
)  # fmt: skip
@settings(max_examples=100, deadline=None, derandomize=True)
def test_filled_plans_can_be_sawn_and_keep_their_pieces(
    length: int, height: int, kerf: int, sizes: list[Size], data: st.DataObject
) -> None:
    slab, areas = Slab(length, height), [a * b for a, b in sizes]
    plan = best_plan(slab, kerf, sizes, areas)
    kept = SawPlan(tuple(piece for piece in plan.pieces if data.draw(st.booleans())))
    wanted = {item: data.draw(st.integers(0, 3)) for item in range(len(sizes))}
    full = filled(slab, kerf, sizes, kept, wanted, areas)
    assert faults(slab, kerf, sizes, full) == []
    assert set(kept.pieces) <= set(full.pieces)
    more = Counter(full.gives()) - Counter(kept.gives())
    assert all(count <= wanted[item] for item, count in more.items())
