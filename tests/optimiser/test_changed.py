"""A plan made anew keeps its days before the change, in a third of the plays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.optimiser.changed import Last, first_change, kept
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem, Stack, Supply
from blockrun.optimiser.state import Span, State
from blockrun.planner.audit import audit
from blockrun.planner.brief import brief
from blockrun.planner.make import make_plan
from tests.optimiser.small import OPENS, YARD, a_turn, at, days, frost_on
from tests.yards import a_yard

DAY = 4


@pytest.fixture(scope="module")
def problem() -> Problem:
    yard = a_yard(14)
    return brief(yard.site, yard.order, 120).problem


def number(problem: Problem) -> int:
    return problem.days[DAY].number


def test_nothing_has_changed_in_the_same_problem(problem: Problem) -> None:
    assert first_change(problem, replace(problem)) >= problem.horizon


def test_a_day_less_is_a_change_from_the_next_one_on(problem: Problem) -> None:
    now = replace(problem, days=problem.days[:DAY] + problem.days[DAY + 1 :])
    assert first_change(problem, now) == number(problem)
    assert first_change(now, problem) == number(problem)


def test_people_away_are_a_change_on_that_day(problem: Problem) -> None:
    day = replace(problem.days[DAY], people=problem.days[DAY].people - 1)
    now = replace(problem, days=(*problem.days[:DAY], day, *problem.days[DAY + 1 :]))
    assert first_change(problem, now) == number(problem)


def test_other_air_is_a_change_on_the_day_of_the_first_pour_it_tells_on(problem: Problem) -> None:
    later = problem.ripe_strip[0].copy()
    later[problem.days[DAY].opens + 60] += 5
    assert first_change(problem, replace(problem, ripe_strip=(later, *problem.ripe_strip[1:]))) == number(problem)


def test_frost_is_a_change_on_the_first_day_that_sees_it_come(problem: Problem) -> None:
    clear = problem.clear_until.copy()
    clear[problem.days[DAY].number :] -= 1
    assert first_change(problem, replace(problem, clear_until=clear)) == number(problem)


def test_a_frost_that_lasts_a_day_longer_is_a_change_on_that_day(problem: Problem) -> None:
    short, long = frost_on(2), frost_on(2)
    long[3] = -1
    before, now = (replace(problem, clear_until=clear) for clear in (short, long))
    assert first_change(before, now) == first_change(now, before) == 3


def test_nothing_is_kept_that_comes_to_a_full_stack_sooner_where_a_day_more_is_worked() -> None:
    before = replace(YARD, stack=Stack(places=1, layers=2), days=days(numbers=(0, 1, 3, 4, 5)))
    turns = [a_turn(at(0, OPENS)), a_turn(at(0, OPENS))]
    for day, turn in enumerate(turns):
        turn.strip = Span(at(day, OPENS), at(day, OPENS + 10))
    state = State(5, turns, [batch for turn in turns for _, batch in turn.fills[:1]])
    assert kept(Last(before, state), replace(before, days=days(numbers=(0, 1, 3, 5))))
    assert kept(Last(before, state), replace(before, days=days(numbers=range(5)))) is None


def test_a_late_delivery_is_a_change_on_the_day_it_was_to_come(problem: Problem) -> None:
    numbers = [problem.days[at].number for at in (0, DAY, DAY + 3)]
    before, now = (Supply(((numbers[0], 40), (number, 90))) for number in numbers[1:])
    assert first_change(replace(problem, cement=before), replace(problem, cement=now)) == number(problem)


def test_need_dates_change_no_day(problem: Problem) -> None:
    formats = tuple(replace(block, needs=((9, 1),)) for block in problem.formats)
    assert first_change(problem, replace(problem, formats=formats)) >= problem.horizon


def test_another_yard_is_another_plan_from_the_first_day_on(problem: Problem) -> None:
    more = replace(problem.moulds[0], count=problem.moulds[0].count + 1)
    assert first_change(problem, replace(problem, moulds=(more, *problem.moulds[1:]))) is None
    assert kept(Last(problem, State()), replace(problem, days=problem.days[1:])) is None
    assert first_change(problem, replace(problem, places=problem.places + 1)) is None


def test_what_lies_past_the_horizon_of_one_is_no_change(problem: Problem) -> None:
    shorter = tuple(table[: 60 * MINUTES_A_DAY] for table in problem.ripe_strip)
    days = tuple(day for day in problem.days if day.number < 60)
    now = replace(problem, days=days, horizon=60, ripe_strip=shorter, clear_until=problem.clear_until[:60])
    assert first_change(problem, now) >= now.horizon


@pytest.mark.parametrize("seed", [3, 9, 14, 21, 30])
def test_a_plan_made_anew_keeps_the_days_before_a_closed_one(seed: int) -> None:
    yard = a_yard(seed)
    first = make_plan(yard.site, yard.order, rounds=0)
    poured = sorted({start.date() for start in first.tables.batches["start"]})
    closed = poured[len(poured) // 2]
    calendar = yard.site.calendar.model_copy(update={"closed": yard.site.calendar.closed | {closed}})
    site = yard.site.model_copy(update={"calendar": calendar})
    again = make_plan(site, yard.order, rounds=0, last=first)
    assert audit(site, yard.order, again.tables, again.stages, None) == []
    before, after = (
        [start for start in plan.tables.batches["start"] if start.date() < closed] for plan in (first, again)
    )
    assert before == after[: len(before)] != []
