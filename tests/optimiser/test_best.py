"""The better plan is kept, the higher bound counts, and no bound above a plan is ever claimed."""

from __future__ import annotations

from dataclasses import replace

from blockrun.optimiser.best import Best, Known
from blockrun.optimiser.score import BATCHES, CEMENT, FINISH, LATE, score
from blockrun.optimiser.state import Span, State, Turn
from tests.optimiser.small import OPENS, YARD, a_turn, at


def plan(day: int) -> State:
    """One turn poured on a day, and stripped the day after."""
    turn: Turn = a_turn(at(day, OPENS))
    turn.strip = Span(at(day + 1, OPENS), at(day + 1, OPENS + 10))
    return State(day + 2, [turn], [turn.fills[0][1]])


def best() -> tuple[Best, list[Known]]:
    heard: list[Known] = []
    return Best(heard.append), heard


def kept(of: Best, *plans: State) -> None:
    for each in plans:
        of.keep(each, score(YARD, each))


def test_nothing_comes_of_a_search_without_a_plan() -> None:
    of, heard = best()
    assert of.found() is None
    assert heard == []


def test_the_better_plan_is_kept_and_of_equals_the_first() -> None:
    of, heard = best()
    soon, as_soon = plan(0), plan(0)
    kept(of, plan(2), soon, as_soon, plan(1))
    assert of.state is soon
    assert [known.best.finish for known in heard] == [2, 0]


def test_the_higher_bound_counts_and_is_told_once_there_is_a_plan() -> None:
    of, heard = best()
    of.raise_bound(FINISH, 3)
    assert heard == []
    kept(of, plan(4))
    of.raise_bound(FINISH, 1)
    assert of.bound(FINISH) == 3
    assert [known.bounds for known in heard] == [(None, 3, None, None)] * 2


def test_what_is_at_its_bound_is_reached() -> None:
    of, _ = best()
    kept(of, plan(1))
    of.raise_bound(LATE, 0)
    of.raise_bound(FINISH, 1)
    assert of.reached(stages=2)
    assert not of.reached()


def test_bounds_of_which_one_is_above_the_plan_are_not_claimed() -> None:
    of, _ = best()
    kept(of, plan(1))
    of.raise_bound(BATCHES, 1)
    found = of.found()
    assert found
    assert (found.sound, found.bounds) == (True, (0, 0, 1, 0))
    of.raise_bound(FINISH, 2)
    unsound = of.found()
    assert unsound
    assert (unsound.sound, unsound.bounds) == (False, (0, 0, 0, 0))


def test_bounds_of_plans_that_finish_sooner_say_nothing_of_one_that_is_less_late_and_finishes_later() -> None:
    of, heard = best()
    kept(of, plan(2))
    of.raise_bound(BATCHES, 0)
    of.raise_bound(BATCHES, 1, replace(of.score, late=9, finish=1))
    of.raise_bound(CEMENT, 5, replace(of.score, batches=0))
    assert (of.bound(BATCHES), of.bound(CEMENT)) == (0, None)
    assert heard[-1].bounds == (None, None, 0, None)


def test_bounds_of_a_plan_hold_for_one_that_is_better_in_each_stage_before() -> None:
    of, _ = best()
    kept(of, plan(2))
    of.raise_bound(BATCHES, 1, of.score)
    kept(of, plan(1))
    assert of.bound(BATCHES) == 1
