"""Blocks for which a small stack has no room, counted by hand and against all ways of standing them."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from blockrun.optimiser.off_rack import OffRack, most_in
from blockrun.optimiser.problem import Problem, Stack
from blockrun.planner.brief import brief
from blockrun.planner.why.goals import Goal
from blockrun.planner.why.ground import AtOnce, at_once, most_off_the_rack
from tests.planner.why.by_hand import CALENDAR, a_site, needed_on


@pytest.mark.parametrize("stack", [Stack(1, 4), Stack(2, 3), Stack(3, 2), Stack(2, 1)])
def test_a_stack_holds_as_many_as_the_best_way_of_standing_them(stack: Stack) -> None:
    for blocks in product(range(6), repeat=3):
        ways = product(*(range(count + 1) for count in blocks))
        assert most_in(stack, blocks) == max(sum(way) for way in ways if stack.columns(way) <= stack.places)


def needing(*days: int, stack: Stack) -> Problem:
    """Two blocks on each of some days of April; days are counted from Monday the 5th."""
    return replace(brief(a_site(), needed_on(*days), 40).problem, stack=stack)


def test_ground_for_all_holds_nothing_back() -> None:
    problem = replace(needing(12, 13, stack=Stack(1, 1)), stack=None)
    assert most_off_the_rack(problem, Goal(8, (4,))) == 4


def test_what_is_laid_on_one_day_makes_room_on_the_next() -> None:
    problem = needing(12, 13, 14, stack=Stack(1, 2))
    assert [most_off_the_rack(problem, Goal(day, (6,))) for day in (7, 8, 9)] == [2, 4, 6]


def test_what_is_late_is_laid_late() -> None:
    """One stands there each working day from the 12th on, Friday the 16th; then over the weekend."""
    problem = needing(12, 13, 14, stack=Stack(1, 1))
    assert [most_off_the_rack(problem, Goal(day, (6,))) for day in range(7, 15)] == [1, 2, 3, 4, 5, 5, 5, 6]


def test_days_on_which_nothing_comes_off_the_rack_are_laid_of_what_stands_there() -> None:
    """Those of Saturday and Sunday stand there since Friday, with those of Friday."""
    problem = needing(16, 17, 18, stack=Stack(2, 2))
    assert at_once(problem, Goal(13, (6,))) == AtOnce(day=11, wanted=6, most=4)
    assert most_off_the_rack(problem, Goal(13, (6,))) == 4
    every_day = CALENDAR.model_copy(update={"workdays": frozenset(range(7))})
    worked = replace(brief(a_site(calendar=every_day), needed_on(16, 17, 18), 40).problem, stack=Stack(2, 2))
    assert most_off_the_rack(worked, Goal(13, (6,))) == 6


def test_before_the_first_day_nothing_is_off_the_rack() -> None:
    assert most_off_the_rack(needing(12, stack=Stack(1, 2)), Goal(-1, (2,))) == 0


def test_what_is_short_of_ground_is_told_day_by_day_until_all_of_it_is_off_the_rack() -> None:
    problem = needing(12, 13, 14, stack=Stack(1, 1))
    off_rack = OffRack(problem, Stack(1, 1), [block.needs for block in problem.formats])
    assert off_rack.short() == {7: 1, 8: 2, 9: 3, 10: 2, 11: 1, 12: 1, 13: 1, 14: 0}
