import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.mix.chart import Found, Signal, chart

readings = st.lists(st.floats(10, 2000), min_size=2, max_size=10)


def signals(values):
    return [(one.signal, one.first, one.last) for one in chart(values).found]


def test_limits_by_hand():
    drawn = chart([10, 12, 11])
    assert (drawn.mean, drawn.mean_range) == (11, 1.5)
    assert drawn.upper == pytest.approx(11 + 2.66 * 1.5, abs=2e-3)
    assert drawn.lower == pytest.approx(11 - 2.66 * 1.5, abs=2e-3)
    assert drawn.upper_range == pytest.approx(3.267 * 1.5, abs=2e-3)


def test_a_point_beyond_its_limits_is_a_signal_and_so_are_the_steps_to_it_and_from_it():
    found = signals([95, 99, 95, 99, 95, 99, 95, 130, 95, 99, 95, 99, 95, 99])
    assert [one for one in found if "run" not in one[0].value] == [
        (Signal.JUMP, 6, 7),
        (Signal.BEYOND, 7, 7),
        (Signal.JUMP, 7, 8),
    ]


def test_eight_on_one_side_are_a_run_and_seven_are_none():
    eight = [96, 94] * 6 + [98, 96] * 4
    assert (Signal.RUN_ABOVE, 12, 19) in signals(eight)
    assert not [one for one in signals([96, 94] * 6 + [98, 96, 98, 96, 98, 96, 98]) if one[0] is Signal.RUN_ABOVE]


def test_a_drift_does_not_blame_the_batches_before_it():
    level = [806, 802, 809, 805, 801, 808, 804, 807, 803, 806, 805, 804]
    drawn = chart([*level, *(806 + 4 * n for n in range(8))])
    assert drawn.base < 20
    assert drawn.mean == pytest.approx(805, abs=1)
    assert drawn.found
    assert min(one.first for one in drawn.found) >= 10


def test_limits_are_of_the_first_twenty():
    calm = [95, 96] * 10
    assert chart([*calm, *[99, 100] * 10]).mean == chart(calm).mean == 95.5
    assert chart([*calm, *[99, 100] * 10]).base == 20


def test_fewer_than_ten_values_are_not_enough_to_call_anything_chance():
    assert not chart([95, 96] * 4).is_enough
    assert chart([95, 96] * 5).is_enough


def test_a_point_on_the_mean_ends_a_run():
    around_nought, above = [1, -1] * 10, [2, 1, 2, 1, 2, 1, 2]
    assert signals([*around_nought, *above, 0, *above]) == []
    assert signals([*around_nought, *above, 1, *above]) == [(Signal.RUN_ABOVE, 20, 34)]


def test_six_rising_are_a_trend_and_five_are_none():
    assert (Signal.RISING, 1, 6) in signals([5, 1, 2, 3, 4, 5, 6, 1, 5, 2])
    assert (Signal.FALLING, 0, 5) in signals([6, 5, 4, 3, 2, 1, 5, 2, 4])
    assert not [one for one in signals([5, 1, 2, 3, 4, 5, 1, 5, 2]) if one[0] is Signal.RISING]


def test_equal_neighbours_end_a_trend():
    assert not [one for one in signals([1, 2, 3, 3, 4, 5, 6]) if one[0] is Signal.RISING]


@pytest.mark.parametrize("values", [[], [95], [95, math.nan], [95, math.inf]])
def test_fewer_than_two_numbers_are_no_chart(values):
    with pytest.raises(OutOfRange):
        chart(values)


def test_values_all_alike_give_no_signal():
    drawn = chart([0.1 + 0.2] * 30)
    assert (drawn.found, drawn.lower, drawn.upper) == ((), drawn.mean, drawn.mean)
    assert drawn.is_settled


@given(readings, st.floats(0.1, 10), st.floats(-5, 500))
def test_the_unit_of_the_values_changes_no_limit(values, factor, shift):
    drawn, other = chart(values), chart([factor * value + shift for value in values])
    assert other.mean == pytest.approx(factor * drawn.mean + shift, rel=1e-9)
    assert other.upper == pytest.approx(factor * drawn.upper + shift, rel=1e-9)
    assert other.upper_range == pytest.approx(factor * drawn.upper_range, rel=1e-6, abs=1e-9)


@given(readings)
def test_backwards_the_same_limits_hold_and_runs_are_the_same(values):
    drawn, other = chart(values), chart(values[::-1])
    assert (other.mean, other.mean_range) == (drawn.mean, pytest.approx(drawn.mean_range, rel=1e-12, abs=1e-12))
    last = len(values) - 1
    runs = {Signal.RUN_ABOVE, Signal.RUN_BELOW}
    mirrored = {Found(one.signal, last - one.last, last - one.first) for one in other.found if one.signal in runs}
    assert {one for one in drawn.found if one.signal in runs} == mirrored
