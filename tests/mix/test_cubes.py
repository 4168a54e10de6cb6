import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.mix.cubes import batches_with_cubes, cubes_l, sets_due

loads = st.lists(st.floats(1, 500), max_size=40)
lots = st.floats(50, 10_000)


def test_three_cubes_of_100_mm_take_three_litres_and_a_bit():
    assert cubes_l(3, 100) == pytest.approx(3)
    assert cubes_l(3, 150) == pytest.approx(10.125)
    assert cubes_l(3, 100, overfill=0.03) == pytest.approx(3.09)


@pytest.mark.parametrize(("poured_l", "sets"), [(0, 0), (1, 1), (5000, 1), (5000.0001, 2), (10_000, 2), (12_400, 3)])
def test_each_lot_begun_asks_for_a_set(poured_l, sets):
    assert sets_due(poured_l, 5000) == sets


def test_a_sum_that_is_a_lot_but_for_rounding_is_one_lot():
    assert sets_due(0.1 + 0.2, 0.3) == 1


def test_the_batch_in_which_a_lot_begins_gives_the_set():
    assert batches_with_cubes([200] * 6, 500) == [0, 2, 5]
    assert batches_with_cubes([200] * 5, 500) == [0, 2]  # 1000 L are two lots, not three


def test_a_batch_of_several_lots_gives_one_set():
    assert batches_with_cubes([200, 200], 50) == [0, 1]


@given(loads, lots)
def test_sets_are_one_a_lot_at_most_and_the_first_batch_gives_one(makes_l, every_l):
    chosen = batches_with_cubes(makes_l, every_l)
    assert len(chosen) <= sets_due(sum(makes_l), every_l)
    assert chosen == sorted(set(chosen))
    assert chosen[:1] == ([0] if makes_l else [])


@given(loads, lots)
def test_lots_no_smaller_than_any_batch_give_all_their_sets(makes_l, every_l):
    larger = max([every_l, *makes_l])
    assert len(batches_with_cubes(makes_l, larger)) == sets_due(sum(makes_l), larger)


@pytest.mark.parametrize(("count", "side_mm", "overfill"), [(0, 100, 0), (3, 39, 0), (3, 301, 0), (3, 100, -0.01)])
def test_cubes_outside_the_limits_are_refused(count, side_mm, overfill):
    with pytest.raises(OutOfRange):
        cubes_l(count, side_mm, overfill)


@pytest.mark.parametrize(("poured_l", "every_l"), [(-1, 100), (float("inf"), 100), (100, 0), (100, -1)])
def test_lots_outside_the_limits_are_refused(poured_l, every_l):
    with pytest.raises(OutOfRange):
        sets_due(poured_l, every_l)
