"""Medians, shares and their intervals, from few numbers and without a shape of their scatter taken for granted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

LEAST: Final = 8
"""Times that something must have been seen before it is told (our choice; under 6 no interval of 95 % is)."""

SURE: Final = 0.95


@dataclass(frozen=True)
class Median:
    """The middle of some numbers, and an interval for the middle of all that they are drawn from.

    Attributes
    ----------
    n : how many.
    middle : half are at most that.
    low, high : hold the true one in 95 of 100 such samples or more.
    """

    n: int
    middle: float
    low: float
    high: float

    def excludes(self, value: float) -> bool:
        """Whether a value lies outside."""
        return not self.low <= value <= self.high


def median_of(values: Sequence[float]) -> Median:
    """Middle and interval.

    Parameters
    ----------
    values : `LEAST` or more, in any order.

    Source
    ------
    Between the k-th smallest and the k-th greatest of n lies the median but for a chance of 2 P(B < k), where B is
    binomial of n and one half; of any continuous distribution, and of one with ties the more. It is reckoned for
    numbers that do not hang on one another; gaps between entries swing against each other, which makes their median
    surer. tests/published/test_medians.py.
    """
    ranked, k = sorted(values), rank(len(values))
    return Median(len(ranked), median(ranked), ranked[k - 1], ranked[-k])


def rank(n: int) -> int:
    """Greatest k for which the k-th smallest and k-th greatest of n hold the median with 95 %; n >= 6."""
    k, below = 0, 1
    while 2 * below <= (1 - SURE) * 2**n:
        k += 1
        below += math.comb(n, k)
    return k


def chance_of_so_many(few: int, of_few: int, others: int, of_others: int) -> float:
    """How likely so many of a group, or more, are hit, were all of both groups alike.

    Parameters
    ----------
    few, of_few : hit in the group, and in all.
    others, of_others : likewise of those beside it.

    Source
    ------
    Fisher's exact test, one-sided.
    """
    hit, every = few + others, of_few + of_others
    ways = sum(
        math.comb(of_few, one) * math.comb(of_others, hit - one)
        for one in range(few, min(hit, of_few) + 1)
        if hit - one <= of_others
    )
    return ways / math.comb(every, hit)
