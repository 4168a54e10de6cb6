from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.optimiser.sawing.grid import best_plan
from blockrun.optimiser.sawing.plan import Piece, Slab
from tests.optimiser.sawing.by_hand import Size, faults
from tests.optimiser.sawing.by_trying import most_worth

items = st.lists(
    st.tuples(st.tuples(st.integers(2, 14), st.integers(2, 14)), st.integers(0, 40)), min_size=1, max_size=4
)


def worth_of(pieces: tuple[Piece, ...], worth: list[int]) -> int:
    return sum(worth[piece.item] for piece in pieces)


@given(st.integers(1, 24), st.integers(1, 18), st.integers(0, 3), items)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_no_cuts_anywhere_are_worth_more(length: int, height: int, kerf: int, drawn: list[tuple[Size, int]]) -> None:
    sizes, worth = [size for size, _ in drawn], [value for _, value in drawn]
    plan = best_plan(Slab(length, height), kerf, sizes, worth)
    assert faults(Slab(length, height), kerf, sizes, plan) == []
    assert worth_of(plan.pieces, worth) == most_worth((length, height), kerf, sizes, worth)


@given(st.integers(60, 140), st.integers(60, 140), st.integers(0, 3), items, st.integers(100, 3000))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_a_thinned_grid_still_gives_plans_that_can_be_sawn(
    length: int, height: int, kerf: int, drawn: list[tuple[Size, int]], most_steps: int
) -> None:
    sizes, worth = [(a + 5, b + 5) for (a, b), _ in drawn], [value for _, value in drawn]
    slab = Slab(length, height)
    thin, full = best_plan(slab, kerf, sizes, worth, most_steps=most_steps), best_plan(slab, kerf, sizes, worth)
    assert faults(slab, kerf, sizes, thin) == []
    assert worth_of(thin.pieces, worth) <= worth_of(full.pieces, worth)
    assert bool(thin.pieces) == bool(full.pieces)


def test_a_piece_is_turned_where_that_is_better() -> None:
    plan = best_plan(Slab(60, 40), 0, [(40, 30)], [1.0])
    assert [(piece.length, piece.height) for piece in plan.pieces] == [(30, 40), (30, 40)]


def test_pieces_round_a_hole_are_not_sawn_for_no_cut_goes_from_edge_to_edge() -> None:
    assert len(best_plan(Slab(5, 5), 0, [(3, 2)], [1.0]).pieces) == 3


@pytest.mark.parametrize(
    ("length", "kerf", "n_pieces"),
    [
        pytest.param(100, 0, 2, id="a blade of no width takes nothing"),
        pytest.param(100, 1, 1, id="the blade takes from the second piece"),
        pytest.param(101, 1, 2, id="the second piece ends at the edge and needs no cut there"),
        pytest.param(102, 4, 1, id="the blade is wider than what is left beside two pieces"),
        pytest.param(54, 5, 1, id="the strip left is narrower than the blade and all sawdust"),
        pytest.param(50, 5, 1, id="the slab is the piece"),
        pytest.param(49, 0, 0, id="the slab is too short"),
    ],
)
def test_the_blade_is_kept_between_pieces_and_not_at_the_edges(length: int, kerf: int, n_pieces: int) -> None:
    plan = best_plan(Slab(length, 20), kerf, [(50, 20)], [1.0])
    assert len(plan.pieces) == n_pieces
    assert faults(Slab(length, 20), kerf, [(50, 20)], plan) == []


def test_pieces_lie_in_order_from_one_end_on() -> None:
    pieces = best_plan(Slab(100, 50), 2, [(30, 20), (20, 10)], [600.0, 200.0]).pieces
    assert list(pieces) == sorted(pieces, key=lambda piece: (piece.x, piece.y))
