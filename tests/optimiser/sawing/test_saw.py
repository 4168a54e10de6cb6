from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.grid import Grid
from blockrun.optimiser.sawing.job import Job
from blockrun.optimiser.sawing.plan import Slab
from blockrun.optimiser.sawing.solve import saw
from tests.optimiser.sawing.by_hand import EFFORT, Size, all_faults, given
from tests.optimiser.sawing.by_trying import all_counts, least_area

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


few_sizes = st.lists(
    st.tuples(st.tuples(st.integers(3, 12), st.integers(3, 12)), st.integers(1, 4)), min_size=1, max_size=3
)
few_slabs = st.lists(st.tuples(st.integers(12, 18), st.integers(12, 16), st.integers(0, 2)), min_size=1, max_size=2)


@drawn(few_slabs, few_sizes)
@settings(max_examples=40, deadline=None, derandomize=True)
def test_no_saw_plans_take_less_slab(few: list[tuple[int, int, int]], asked: list[tuple[Size, int]]) -> None:
    slabs, kerf = [Slab(length, height) for length, height, _ in few], [blade for _, _, blade in few]
    sizes, wanted = [size for size, _ in asked], [count for _, count in asked]
    sawn = saw(slabs, kerf, sizes, wanted, EFFORT)
    counts: dict[int, frozenset[tuple[int, ...]]] = {}
    for length, height, blade in few:
        area = length * height
        counts[area] = counts.get(area, frozenset()) | all_counts((length, height), blade, sizes, wanted)
    assert sawn.cost == least_area(counts, wanted)
    assert sawn.proven


def test_blocks_are_turned_so_that_one_slab_is_enough() -> None:
    sawn = saw([Slab(60, 40)], [0], [(40, 30)], [2], EFFORT)
    assert [count for _, _, count in sawn.plans] == [1]


def test_the_smaller_slab_is_used_where_that_is_enough() -> None:
    sawn = saw([Slab(60, 40), Slab(30, 40)], [0, 0], [(30, 40)], [3], EFFORT)
    assert sorted((slab, count) for slab, _, count in sawn.plans) in ([(0, 1), (1, 1)], [(1, 3)])
    assert sawn.cost == 3 * 30 * 40


def test_a_wide_blade_makes_the_other_slab_the_better_one() -> None:
    sawn = saw([Slab(61, 20), Slab(61, 21)], [2, 1], [(30, 20)], [2], EFFORT)
    assert [slab for slab, _, _ in sawn.plans] == [1]


def test_offcuts_are_sawn_out_of_what_is_left_over_and_cost_no_slab() -> None:
    sawn = saw([Slab(100, 40)], [2], [(60, 40), (38, 18)], [3, 4], EFFORT, offcuts=[1])
    assert given(sawn) == {0: 3, 1: 4}
    assert sawn.cost == 3 * 100 * 40
    assert sorted((plan.gives().get(1, 0), count) for _, plan, count in sawn.plans) == [(0, 1), (2, 2)]


def test_offcuts_that_find_no_room_are_left_out() -> None:
    sawn = saw([Slab(100, 40)], [2], [(60, 40), (39, 39)], [3, 4], EFFORT, offcuts=[1])
    assert given(sawn) == {0: 3}


def test_nothing_wanted_takes_no_slab() -> None:
    sawn = saw([Slab(100, 40)], [2], [(60, 40), (39, 18)], [0, 4], EFFORT, offcuts=[1])
    assert (sawn.plans, sawn.cost, sawn.bound, sawn.proven) == ((), 0, 0, True)


def test_an_impatient_caller_still_gets_plans_that_can_be_sawn() -> None:
    sizes, demand = [(390, 190), (290, 190), (190, 140), (240, 90)], [40, 31, 55, 18]
    sawn = saw([Slab(1200, 600)], [4], sizes, demand, Effort(work=0.0, stop=lambda: True))
    assert all_faults([Slab(1200, 600)], [4], sizes, sawn) == []
    assert given(sawn) == dict(enumerate(demand))


def test_a_bound_without_proof_is_no_higher_than_a_proven_cost() -> None:
    sizes, demand = [(390, 190), (290, 190), (190, 140), (240, 90)], [40, 31, 55, 18]
    hasty, careful = (
        saw([Slab(1200, 600)], [4], sizes, demand, effort) for effort in (Effort(0.0, lambda: True), EFFORT)
    )
    assert hasty.bound <= careful.bound <= careful.cost <= hasty.cost
    assert hasty.bound > 0


def test_a_piece_is_not_charged_the_blade_of_a_slab_it_need_not_be_sawn_from() -> None:
    sawn = saw([Slab(20, 20), Slab(99, 99)], [3, 1], [(20, 20), (9, 9)], [100, 400], EFFORT)
    assert sawn.cost == 100 * 400 + 4 * 99 * 99
    assert sawn.bound <= sawn.cost


def test_a_bound_is_rounded_up_to_what_whole_slabs_add_up_to() -> None:
    job = Job([Slab(7, 10), Slab(5, 10)], [0, 0], [], {})
    assert [job.up(Fraction(area)) for area in (0, 1, 51, 71, 101, 121, 141)] == [0, 50, 70, 100, 120, 140, 150]
    assert job.up(Fraction(10**12) + Fraction(1, 3)) == 10**12 + 10


def test_sizes_by_the_tenth_of_a_millimetre_are_sawn_out_of_a_large_slab_with_an_honest_bound() -> None:
    slab, sizes, demand = Slab(30_000, 20_000), [(3977, 1933), (2411, 1187), (1729, 613)], [90, 150, 200]
    assert not Grid.of(slab, 35, sizes, [0, 1, 2]).exact
    sawn = saw([slab], [35], sizes, demand, EFFORT)
    assert all_faults([slab], [35], sizes, sawn) == []
    assert given(sawn) == dict(enumerate(demand))
    assert sawn.bound >= sum(a * b * count for (a, b), count in zip(sizes, demand, strict=True))
