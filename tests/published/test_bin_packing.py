"""Bins of the literature packed as batches: a weight is a block, a bin is a batch of the one size there is.

Eleven weights: the bin packing example of the guide to OR-Tools, bins of 100; the data from memory. They come to 370,
    so the guide's 4 bins are the fewest by arithmetic too.
Thirty weights: the example by which D. S. Johnson, A. Demers, J. D. Ullman, M. R. Garey and R. L. Graham, Worst-case
    performance bounds for simple one-dimensional packing algorithms, SIAM Journal on Computing 3 (1974), 299-325, show
    that first fit, biggest first, may take eleven bins for every nine: weights a little over a half and a quarter of
    the bin, and so much under a quarter that they fill the rest. From memory, with a hundredth of the bin for the
    little; nine bins are filled to the brim, so there is no better.

The figures are whole bins and have no tolerance.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from blockrun.optimiser.pack import biggest_first, pack
from blockrun.optimiser.problem import Problem
from tests.optimiser.small import BLOCK, EFFORT, LOAD, YARD

BIN = 100
ELEVEN = Counter((48, 30, 19, 36, 36, 27, 42, 42, 36, 24, 30))
THIRTY = Counter({51: 6, 27: 6, 26: 6, 23: 12})


def yard(weights: Counter[int]) -> Problem:
    formats = tuple(replace(BLOCK, volume=weight, demand=count) for weight, count in sorted(weights.items()))
    return replace(YARD, formats=formats, loads=(replace(LOAD, room=BIN),))


def wanted(weights: Counter[int]) -> dict[int, int]:
    return dict(enumerate(count for _, count in sorted(weights.items())))


@pytest.mark.parametrize(("weights", "bins"), [(ELEVEN, 4), (THIRTY, 9)], ids=["eleven", "thirty"])
def test_the_fewest_bins_are_found(weights: Counter[int], bins: int) -> None:
    assert -(-sum(weights.elements()) // BIN) == bins
    batches = pack(yard(weights), wanted(weights), (), EFFORT)
    assert batches is not None
    assert len(batches) == bins
    assert sum((Counter(batch.content) for batch in batches), Counter()) == Counter(wanted(weights))
    volumes = sorted(weights)
    assert all(sum(volumes[block] * n for block, n in batch.content.items()) <= BIN for batch in batches)


def test_biggest_first_takes_eleven_bins_for_nine() -> None:
    assert len(biggest_first(yard(THIRTY), wanted(THIRTY), BIN) or []) == 11
