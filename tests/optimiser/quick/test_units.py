"""Moulds, sides and bases by the minute they come free."""

from __future__ import annotations

from blockrun.optimiser.quick.units import Units
from tests.optimiser.small import ON_BASES, YARD


def test_all_moulds_are_free_at_first() -> None:
    assert Units(YARD).free(0) == [0, 0]


def test_the_mould_taken_is_the_one_that_came_free_last() -> None:
    units = Units(YARD)
    units.take(0, 0)
    units.mould_free(0, 50)
    units.take(0, 60)
    assert units.free(0) == [0]


def test_on_bases_a_mould_is_free_when_its_sides_and_a_base_are() -> None:
    units = Units(ON_BASES)
    units.take(0, 0)
    assert units.free(0) == []
    units.mould_free(0, 50)
    assert units.free(0) == [50]
    units.take(0, 50)
    units.mould_free(0, 70)
    assert units.free(0) == []
    units.base_free(0, 90)
    assert units.free(0) == [90]
    units.take(0, 90)
    assert units.free(0) == []


def test_of_more_moulds_than_there_are_those_free_first_are_used_no_more() -> None:
    units = Units(YARD)
    for _ in range(3):
        units.take(0, 0)
    units.mould_free(0, 50)
    units.mould_free(0, 30)
    assert units.free(0) == [50]
    units.mould_free(0, 70)
    assert units.free(0) == [50, 70]
