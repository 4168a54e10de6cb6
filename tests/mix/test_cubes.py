import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import OutOfRange
from blockrun.mix.cubes import (
    SetsBy,
    cubes_l,
    numbers_of_sets,
    sets_by_date,
    sets_by_volume,
    shared_by_age,
    written_on,
)

days = st.lists(st.integers(1, 5000).map(float), min_size=1, max_size=40)
lots = st.integers(50, 10_000).map(float)


def exactly(*given_by):
    return [SetsBy(n, n) for n in given_by]


def test_three_cubes_of_100_mm_take_three_litres_and_a_bit():
    assert cubes_l(3, 100) == pytest.approx(3)
    assert cubes_l(3, 150) == pytest.approx(10.125)
    assert cubes_l(3, 100, overfill=0.03) == pytest.approx(3.09)


def test_a_day_gives_a_set_for_each_lot_begun_on_it():
    assert sets_by_volume([12_000, 8000], 5000) == [SetsBy(2, 3), SetsBy(4, 4)]


def test_the_first_day_gives_a_set_although_its_lot_is_made_for_days():
    assert sets_by_volume([2000, 2000, 1000], 5000) == exactly(1, 1, 1)


def test_a_set_may_wait_while_its_lot_is_made():
    assert sets_by_volume([4000, 4000, 3000, 1000], 5000) == [SetsBy(1, 1), SetsBy(1, 2), SetsBy(2, 3), SetsBy(3, 3)]


def test_a_lot_that_ends_with_a_day_begins_no_other():
    assert sets_by_volume([5000, 5000], 5000) == exactly(1, 2)


def test_tenths_that_are_not_exact_make_whole_lots():
    assert sets_by_volume([0.1] * 3, 0.3) == exactly(1, 1, 1)


def test_each_day_of_a_mix_is_a_lot_where_lots_are_days():
    assert sets_by_date([3, 4, 9], [3, 4, 9]) == exactly(1, 2, 3)


def test_the_first_day_after_each_delivery_gives_a_set_however_many_came_before_it():
    assert sets_by_date([0, 2, 4, 8, 9], [3, 5, 8]) == exactly(1, 1, 2, 3, 3)


@given(days, lots)
def test_every_lot_begun_has_given_a_set_in_the_end(made_l, every_l):
    found = sets_by_volume(made_l, every_l)
    assert found[-1] == SetsBy(-(-sum(made_l) // every_l), -(-sum(made_l) // every_l))
    assert all(1 <= by.least <= by.most for by in found)


def once_due(made_l, every_l):
    """Sets as they once were given: one on each day that begins with a whole lot made since the last."""
    given_by, since = [], every_l
    for litres in made_l:
        due = since >= every_l
        given_by.append((given_by[-1] if given_by else 0) + due)
        since = litres if due else since + litres
    return given_by


@given(days, lots)
def test_plans_of_before_stay_right_where_they_gave_as_many_sets_as_lots(made_l, every_l):
    given_by, due = once_due(made_l, every_l), sets_by_volume(made_l, every_l)
    assert given_by[-1] <= due[-1].most
    if given_by[-1] == due[-1].most:
        assert all(by.least <= n <= by.most for n, by in zip(given_by, due, strict=True))


def test_one_cube_of_three_is_crushed_young_and_two_of_them_old():
    assert shared_by_age(3, 2) == [1, 2]
    assert shared_by_age(4, 2) == [2, 2]
    assert shared_by_age(5, 3) == [1, 2, 2]


def test_sets_are_numbered_by_the_clock():
    assert list(numbers_of_sets([(1, 1), (2, 0), (4, 2)], {})) == [(1, 1), (4, 2), (4, 3)]


def test_a_set_that_was_given_keeps_its_number_and_the_others_go_on_from_the_highest():
    numbered = list(numbers_of_sets([(4, 1), (1, 2), (6, 1), (7, 2)], {4: (5,), 1: (2, 3)}))
    assert numbered == [(4, 5), (1, 2), (1, 3), (6, 6), (7, 7), (7, 8)]


def test_sets_that_a_batch_is_not_told_of_are_numbered_as_those_to_come():
    assert list(numbers_of_sets([(1, 2), (2, 0), (3, 1)], {1: (2,), 2: (4,)})) == [(1, 2), (1, 5), (3, 6)]


def test_without_ages_all_cubes_stay_together():
    assert shared_by_age(3, 0) == [3]


def test_cubes_are_marked_with_their_set_and_their_number_in_it():
    assert list(written_on(4, 3, 2)) == [(1, "4-1"), (2, "4-2 to 4-3")]
    assert list(written_on(12, 3, 0)) == [(3, "12-1 to 12-3")]


@pytest.mark.parametrize(("count", "side_mm", "overfill"), [(0, 100, 0), (3, 39, 0), (3, 301, 0), (3, 100, -0.01)])
def test_cubes_outside_the_limits_are_refused(count, side_mm, overfill):
    with pytest.raises(OutOfRange):
        cubes_l(count, side_mm, overfill)


@pytest.mark.parametrize("every_l", [0, -1, float("inf")])
def test_lots_outside_the_limits_are_refused(every_l):
    with pytest.raises(OutOfRange):
        sets_by_volume([100.0], every_l)
