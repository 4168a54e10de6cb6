"""Ranks between which the median of a population lies, against a printed table.

A textbook of statistics, Table A.7 "Confidence Intervals for the Population Median", p. 656, as stored for public
reading (coverage in percent, to a tenth). Of each number of values the narrowest with 95 % or more is taken here.
"""

from __future__ import annotations

from math import comb

import pytest

from blockrun.yard.learn.spread import chance_of_so_many, median_of, rank

TABLE = [(6, 1, 96.9), (7, 1, 98.4), (8, 1, 99.2), (9, 2, 96.1), (10, 2, 97.9), (12, 3, 96.1), (13, 3, 97.8)]
TABLE += [(15, 4, 96.5), (16, 4, 97.9), (17, 5, 95.1), (18, 5, 96.9), (20, 6, 95.9)]


@pytest.mark.parametrize(("n", "k", "covers"), TABLE)
def test_ranks_are_those_of_the_table(n: int, k: int, covers: float) -> None:
    assert rank(n) == k
    assert 100 * (1 - 2 * sum(comb(n, below) for below in range(k)) / 2**n) == pytest.approx(covers, abs=0.06)


def test_the_ends_are_the_values_at_those_ranks() -> None:
    found = median_of([5, 1, 9, 3, 7, 2, 8, 4, 6, 10])
    assert (found.n, found.middle, found.low, found.high) == (10, 5.5, 2, 9)


def test_tea_or_milk_first() -> None:
    """R. A. Fisher, The Design of Experiments (1935), ch. II: all four of eight cups told right, 1 in 70 by chance."""
    assert chance_of_so_many(4, 4, 0, 4) == pytest.approx(1 / 70)
    assert chance_of_so_many(3, 4, 1, 4) == pytest.approx(17 / 70)
