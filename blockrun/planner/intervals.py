"""How sure a share is that was counted: an interval for it, and what counting in groups takes away."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

Z_95: Final = 1.959964
"""Quantile of the normal law for 95 in 100."""


def wilson(share: float, n: float) -> tuple[float, float]:
    """Ends of an interval that holds the true share in 95 of 100 such counts.

    Parameters
    ----------
    share : that was counted, 0 to 1.
    n : of so many, > 0; no whole number where they count for fewer than they are.

    Returns
    -------
    Lower and upper end, 0 and 1 exactly where none or all were counted.

    Source
    ------
    E. B. Wilson, Probable inference, the law of succession, and statistical inference, JASA 22 (1927), 209-212;
    checked in tests/published/test_shares.py.
    """
    shrunk = 1 + Z_95**2 / n
    middle = (share + Z_95**2 / (2 * n)) / shrunk
    half = Z_95 * math.sqrt(share * (1 - share) / n + Z_95**2 / (4 * n**2)) / shrunk
    return (0.0 if share <= 0 else max(0.0, middle - half)), (1.0 if share >= 1 else min(1.0, middle + half))


def counts_for(groups: Iterable[tuple[int, int]]) -> float:
    """How many that go together in groups count for, when each group has a luck of its own.

    Parameters
    ----------
    groups : how many were counted in each, and of how many, >= 1.

    Returns
    -------
    At most as many as there are; all of them where nothing can be told: with one group, with none counted, or all.

    Source
    ------
    Variance of a ratio of two sums over groups, over that of as many single ones: the design effect of L. Kish, Survey
    Sampling (1965), from memory. Blocks of one mould break together, and a batch is bad as a whole.
    """
    told = list(groups)
    n, held, n_groups = sum(of for _, of in told), sum(held for held, _ in told), len(told)
    if n_groups < 2 or not 0 < held < n:
        return n
    share = held / n
    spread = math.fsum((held - share * of) ** 2 for held, of in told) * n_groups / (n_groups - 1) / n**2
    return min(n, share * (1 - share) / spread) if spread else n
