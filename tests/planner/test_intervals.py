"""How sure shares are that were counted."""

from __future__ import annotations

import pytest

from blockrun.planner.intervals import counts_for, wilson


def test_none_and_all_are_ends_of_their_intervals() -> None:
    assert wilson(0, 40)[0] == 0
    assert wilson(1, 40)[1] == 1


def test_more_of_them_make_it_narrower() -> None:
    few, many = wilson(0.1, 20), wilson(0.1, 200)
    assert few[0] < many[0] < 0.1 < many[1] < few[1]


def test_groups_that_are_all_or_nothing_count_for_hardly_more_than_groups() -> None:
    # by hand: ten groups of four, one of them bad: 14.4 x 10/9 / 40^2 = 0.01, and 0.1 x 0.9 / 0.01 = 9
    assert counts_for([(4, 4), *[(0, 4)] * 9]) == pytest.approx(9)


def test_what_is_spread_over_groups_counts_in_full() -> None:
    assert counts_for([(1, 4)] * 10) == 40
    assert counts_for([(0, 4)] * 10) == 40


@pytest.mark.parametrize("groups", [[(1, 4)], [(0, 4), (0, 4)], [(4, 4), (4, 4)]])
def test_where_nothing_can_be_told_each_counts(groups: list[tuple[int, int]]) -> None:
    assert counts_for(groups) == sum(of for _, of in groups)
