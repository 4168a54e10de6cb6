from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.optimiser.problem import Supply
from tests.optimiser.small import CLOSES, HORIZON, OPENS, YARD, at, days


@pytest.mark.parametrize(
    ("minute", "length", "start"),
    [
        (0, 10, OPENS),
        (OPENS, 120, OPENS),
        (OPENS + 1, 120, 620),
        (590, 10, 590),
        (591, 10, 620),
        (600, 1, 620),
        (CLOSES - 1, 1, CLOSES - 1),
        (CLOSES, 1, at(1, OPENS)),
        (0, 180, 620),
    ],
)
def test_a_task_lies_in_one_window(minute: int, length: int, start: int) -> None:
    assert YARD.fit(minute, length) == start


def test_a_task_longer_than_every_window_fits_nowhere() -> None:
    assert YARD.fit(0, 181) is None


def test_nothing_fits_after_the_horizon() -> None:
    assert YARD.fit(at(HORIZON - 1, CLOSES - 1), 1) == at(HORIZON - 1, CLOSES - 1)
    assert YARD.fit(at(HORIZON - 1, CLOSES), 1) is None


@pytest.mark.parametrize(
    ("stripped", "leaves"),
    [
        (at(0, 500), at(1, 500)),
        (at(0, 600), at(1, 620)),
        (at(0, 599), at(1, 599)),
        (at(0, CLOSES), at(3, OPENS)),
        (at(0, CLOSES - 1), at(1, CLOSES - 1)),
    ],
)
def test_a_block_leaves_the_rack_in_a_working_minute(stripped: int, leaves: int) -> None:
    closed_on_the_second = replace(YARD, days=days(numbers=(0, 1, 3, 4)))
    assert closed_on_the_second.leaves_rack(stripped) == leaves


def test_a_block_may_leave_the_rack_after_the_last_day() -> None:
    stripped = at(HORIZON - 1, CLOSES - 1)
    assert YARD.leaves_rack(stripped) == stripped + YARD.rack_for
    opens = at(HORIZON + 3, OPENS)
    assert replace(YARD, later=((opens, opens + 60),)).leaves_rack(stripped) == opens
    assert replace(YARD, later=((opens, opens + 60),)).ready(0, stripped) == opens


def test_a_block_is_ready_when_it_is_off_the_rack_and_old_enough() -> None:
    assert YARD.ready(poured=at(0, 500), stripped=at(1, 490)) == at(2, 500)
    assert YARD.ready(poured=at(0, 500), stripped=at(3, 490)) == at(4, 490)


def test_supplies_count_from_the_day_they_come() -> None:
    supply = Supply(((0, 5), (3, 9)))
    assert [supply.by(day) for day in (0, 2, 3, 8)] == [5, 5, 9, 9]
    assert Supply(((2, 5),)).by(1) == 0
