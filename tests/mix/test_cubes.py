import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.mix.cubes import cubes_l, days_with_cubes

days = st.lists(st.sampled_from([0.0]) | st.floats(1, 5000), max_size=40)
lots = st.floats(50, 10_000)


def test_three_cubes_of_100_mm_take_three_litres_and_a_bit():
    assert cubes_l(3, 100) == pytest.approx(3)
    assert cubes_l(3, 150) == pytest.approx(10.125)
    assert cubes_l(3, 100, overfill=0.03) == pytest.approx(3.09)


def test_the_first_day_gives_a_set_and_then_each_that_begins_with_a_lot_made():
    assert days_with_cubes([2000, 2000, 1000, 2000, 2000, 2000], 5000) == [0, 3]
    assert days_with_cubes([2000, 2000, 900, 2000, 2000, 2000], 5000) == [0, 4]


def test_days_that_make_nothing_give_none():
    assert days_with_cubes([0, 3000, 3000, 0, 10], 5000) == [1, 4]
    assert days_with_cubes([0, 0], 5000) == []


def test_a_day_gives_one_set_however_much_it_makes():
    assert days_with_cubes([20_000, 20_000], 5000) == [0, 1]


@given(days, lots)
def test_between_two_sets_lies_a_lot_and_never_a_lot_and_more_than_a_day(made_l, every_l):
    chosen = days_with_cubes(made_l, every_l)
    assert bool(chosen) == any(made_l)
    for first, second in itertools.pairwise([*chosen, len(made_l)]):
        made = sum(made_l[first:second])
        assert made <= every_l + max(made_l, default=0) + 1e-6
        if second < len(made_l):
            assert made >= every_l * (1 - 1e-6)


@pytest.mark.parametrize(("count", "side_mm", "overfill"), [(0, 100, 0), (3, 39, 0), (3, 301, 0), (3, 100, -0.01)])
def test_cubes_outside_the_limits_are_refused(count, side_mm, overfill):
    with pytest.raises(OutOfRange):
        cubes_l(count, side_mm, overfill)


@pytest.mark.parametrize("every_l", [0, -1, float("inf")])
def test_lots_outside_the_limits_are_refused(every_l):
    with pytest.raises(OutOfRange):
        days_with_cubes([100.0], every_l)
