"""Convex pieces taken out of convex polygons."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.order.domes.clip import area, clipped, left_over, narrowest, within

BOX = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)]


def strip(low: float, high: float):
    return [(1.0, 0.0, high), (-1.0, 0.0, -low)]


def test_a_half_plane_takes_its_half():
    assert area(clipped(BOX, [(1.0, 0.0, 1.0)])) == pytest.approx(3)


def test_a_half_plane_beyond_takes_nothing_or_all():
    assert clipped(BOX, [(1.0, 0.0, 9.0)]) == BOX
    assert clipped(BOX, [(1.0, 0.0, -1.0)]) == []


def test_an_end_leaves_one_piece():
    left = left_over(BOX, clipped(BOX, [(1.0, 0.0, 1.0)]))
    assert sorted(left) == [(1, 0), (1, 3), (4, 0), (4, 3)]
    assert area(left) == pytest.approx(9)


def test_a_notch_leaves_an_outline_of_six_corners():
    left = left_over(BOX, clipped(BOX, [(1.0, 0.0, 1.0), (0.0, 1.0, 1.0)]))
    assert len(left) == 6
    assert (1.0, 1.0) in left
    assert area(left) == pytest.approx(11)


def test_a_strip_through_the_middle_leaves_two_pieces_in_one_outline():
    assert area(left_over(BOX, clipped(BOX, strip(1, 2)))) == pytest.approx(9)


def test_a_hole_is_joined_to_the_edge_by_a_bridge():
    hole = clipped(BOX, [*strip(1, 2), (0.0, 1.0, 2.0), (0.0, -1.0, -1.0)])
    assert area(left_over(BOX, hole)) == pytest.approx(11)


def test_all_taken_leaves_nothing_and_nothing_taken_leaves_all():
    assert left_over(BOX, BOX) == []
    assert left_over(BOX, []) == BOX


def test_within_allows_its_tolerance():
    assert within(BOX, (4.5, 1.0), 0.6)
    assert not within(BOX, (4.5, 1.0), 0.4)


@given(
    st.lists(st.tuples(st.floats(0, 2 * math.pi), st.floats(-1.0, 2.5)), min_size=1, max_size=4),
    st.floats(0.3, 2),
)
def test_what_is_taken_and_what_is_left_make_the_whole(planes, slant):
    whole = [(-2.0, -1.5), (2.0, -1.5), (slant, 1.5), (-slant, 1.5)]
    taken = clipped(whole, [(math.cos(turn), math.sin(turn), reach) for turn, reach in planes])
    assert area(left_over(whole, taken)) == pytest.approx(area(whole) - area(taken), abs=1e-3)


def test_the_least_width_of_a_piece_is_square_to_one_of_its_sides():
    assert narrowest([(0, 0), (4, 0), (4, 3), (0, 3)]) == pytest.approx(3)
    assert narrowest([(0, 0), (4, 0), (0, 3)]) == pytest.approx(12 / 5)
    assert narrowest([]) == 0
