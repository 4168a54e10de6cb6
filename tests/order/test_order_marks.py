"""Marks of blocks that no list names."""

from __future__ import annotations

from blockrun.order.laid import Laid, Role
from blockrun.order.marks import kind_of, marks_for
from blockrun.order.shape import Shape

FULL, HALF = Shape(600, 300, 200), Shape(295, 300, 200)


def laid(shape: Shape, cut: str = "", role: Role = Role.PLAIN) -> Laid:
    return Laid(1, shape, 1, ((0, 0), (1, 0), (1, 1)), cut, role)


def marks(*blocks: Laid, taken: tuple[str, ...] = ()) -> list[str]:
    found = marks_for((kind_of("W", block) for block in blocks), taken)
    return [found[kind_of("W", block)] for block in blocks]


def test_a_mark_is_the_letter_and_the_length():
    assert marks(laid(FULL), laid(HALF), laid(FULL)) == ["W600", "W295", "W600"]


def test_of_one_length_plain_blocks_come_first_then_lintels_and_cut_ones_have_the_mark_of_what_is_cast():
    cut, lintel = laid(FULL, cut="to 412 mm"), laid(FULL, role=Role.LINTEL)
    assert marks(lintel, cut, laid(FULL)) == ["W600-2", "W600", "W600"]


def test_marks_of_lists_are_left_alone():
    assert marks(laid(FULL), laid(FULL, role=Role.SILL), taken=("W600", "W600-3")) == ["W600-2", "W600-4"]


def test_lengths_that_round_alike_have_their_own_marks():
    assert sorted(marks(laid(Shape(396.875, 200, 200)), laid(Shape(397.1, 200, 200)))) == ["W397", "W397-2"]


def test_the_order_of_the_blocks_never_matters():
    some = [laid(FULL), laid(HALF), laid(FULL, cut="sloped"), laid(HALF, role=Role.SILL)]
    assert marks(*some) == marks(*reversed(some))[::-1]
