"""Frost on the third day (number 2) of ten that all are worked."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from blockrun.optimiser.frost import Frost
from tests.optimiser.small import HORIZON, YARD, days, frost_on

COLD = replace(YARD, clear_until=frost_on(2))


def test_without_frost_nothing_is_hurried() -> None:
    frost = Frost(YARD)
    assert not frost.ever
    assert not frost.at_the_end
    assert frost.before(0) is None
    assert list(frost.last_days(range(HORIZON))) == []
    assert frost.tail(4) == 4


def test_it_is_seen_from_the_days_before_it_and_not_from_those_after() -> None:
    frost = Frost(COLD)
    assert [frost.before(day) for day in (0, 1, 2, 3)] == [1, 1, -1, None]
    assert frost.ever
    assert not frost.at_the_end


def test_what_stands_may_not_meet_it() -> None:
    frost = Frost(COLD)
    assert frost.spares(0, 1)
    assert not frost.spares(0, 2)
    assert not frost.spares(2, 2)
    assert frost.spares(3, HORIZON - 1)


def test_the_last_working_day_before_it_strips_all() -> None:
    assert list(Frost(COLD).last_days(range(HORIZON))) == [1]
    idle_before = replace(COLD, days=days(numbers=(0, 2, 3, 4)))
    assert list(Frost(idle_before).last_days(range(4))) == [0]
    assert Frost(idle_before).comes_overnight(0, 0)


def test_counting_goes_on_to_the_frost_if_it_is_not_far() -> None:
    assert Frost(COLD).tail(0) == 1
    late = replace(YARD, clear_until=frost_on(8))
    assert Frost(late).tail(0) == 7
    assert not Frost(late).is_near(0, 0)
    assert Frost(late).is_near(1, 1)


def test_frost_without_an_end_is_known_by_the_last_clear_day() -> None:
    clear = np.full(HORIZON, -1, dtype=np.int32)
    clear[:4] = 3
    frost = Frost(replace(YARD, clear_until=clear))
    assert frost.at_the_end
    assert frost.last_clear == 3
