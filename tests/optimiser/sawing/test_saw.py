from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.optimiser.sawing import Slab, saw
from tests.optimiser.sawing.by_hand import EFFORT, Size, all_faults, given

slabs_and_blades = st.tuples(st.builds(Slab, st.integers(30, 60), st.integers(30, 60)), st.integers(0, 4))
sizes_and_counts = st.tuples(st.tuples(st.integers(5, 30), st.integers(5, 30)), st.integers(0, 9), st.booleans())
jobs = st.tuples(st.lists(slabs_and_blades, min_size=1, max_size=2), st.lists(sizes_and_counts, min_size=1, max_size=5))


@drawn(jobs)
@settings(max_examples=60, deadline=None, derandomize=True)
def test_every_plan_can_be_sawn_and_gives_what_is_wanted(
    job: tuple[list[tuple[Slab, int]], list[tuple[Size, int, bool]]],
) -> None:
    slabs, kerf = [slab for slab, _ in job[0]], [blade for _, blade in job[0]]
    sizes, demand = [size for size, _, _ in job[1]], [count for _, count, _ in job[1]]
    offcuts = [item for item, (_, _, offcut) in enumerate(job[1]) if offcut]
    sawn = saw(slabs, kerf, sizes, demand, EFFORT, offcuts=offcuts)
    assert all_faults(slabs, kerf, sizes, sawn) == []
    wanted = Counter({item: count for item, count in enumerate(demand) if item not in offcuts})
    surplus = given(sawn)
    surplus.subtract(wanted)
    assert all(0 <= surplus[item] <= (demand[item] if item in offcuts else 0) for item in range(len(sizes)))


def test_the_same_question_gets_the_same_answer() -> None:
    sizes, demand = [(390, 190), (290, 190), (190, 140), (240, 90)], [40, 31, 55, 18]
    first, second = (saw([Slab(1200, 600), Slab(900, 600)], [4, 4], sizes, demand, EFFORT) for _ in range(2))
    assert first == second


def test_a_size_that_fits_no_slab_is_named() -> None:
    with pytest.raises(OutOfRange, match="item 1, 61 x 20"):
        saw([Slab(60, 40), Slab(50, 50)], [0, 0], [(10, 10), (61, 20)], [1, 1], EFFORT)
