"""Costs of castings as costs of blocks."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from blockrun.optimiser.problem import Casting, Format, Problem
from blockrun.optimiser.shares import least_each
from tests.optimiser.small import YARD

BIG, SMALL = Format(0, 300, 1, ()), Format(0, 100, 1, ())


def yard(*slabs: Casting) -> Problem:
    return replace(YARD, formats=(BIG, SMALL), slabs=slabs)


def test_a_block_cast_by_itself_costs_what_it_costs() -> None:
    assert least_each(yard(), {0: 30, 1: 10}) == {0: 30, 1: 10}


def test_a_slab_costs_its_blocks_by_their_volume() -> None:
    slab = Casting(0, 600, ((0, 1), (1, 2)))  # 300 and 2 x 100
    assert least_each(yard(slab), {2: 60}) == {0: Fraction(36), 1: Fraction(12)}


def test_of_all_castings_that_give_a_block_the_cheapest_counts() -> None:
    slab = Casting(0, 600, ((0, 1), (1, 2)))
    assert least_each(yard(slab), {0: 40, 1: 10, 2: 60}) == {0: Fraction(36), 1: 10}


def test_whatever_is_poured_costs_at_least_as_much_as_its_blocks() -> None:
    slab, other = Casting(0, 600, ((0, 1), (1, 2))), Casting(0, 500, ((1, 4),))
    costs = {0: 33, 2: 61, 3: 44}
    each, castings = least_each(yard(slab, other), costs), yard(slab, other).castings
    for number, cost in costs.items():
        assert sum(count * each[block] for block, count in castings[number].gives) <= cost
