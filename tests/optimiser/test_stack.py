"""A stack of few places: what stands there day by day, and the strips that wait for it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from blockrun.optimiser.asked import Asked
from blockrun.optimiser.counts import Counts
from blockrun.optimiser.day import DayModel
from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.foreman import Foreman
from blockrun.optimiser.lateness import block_days_late
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem, Stack
from blockrun.optimiser.quick.rack import Rack
from blockrun.optimiser.roll import Roll
from blockrun.optimiser.score import score
from blockrun.optimiser.search import Search
from blockrun.optimiser.stacked import Stacked
from blockrun.optimiser.state import State, Turn
from blockrun.planner.brief import Brief
from tests.optimiser.held import hold, morning
from tests.optimiser.quick.kept import broken
from tests.optimiser.quick.test_plays import briefed, faults, tries_of
from tests.optimiser.quick.test_plays import played as quick_plays
from tests.optimiser.small import BLOCK, EFFORT, MOULD, OPENS, YARD, a_turn, at
from tests.yards_more import a_yard_with_a_stack

COLUMN = Stack(places=1, layers=2)
COLUMN_OF_FOUR = Stack(places=1, layers=4)
NEEDED = replace(YARD, formats=(replace(BLOCK, demand=8, needs=((6, 2), (8, 6))),))
"""Poured on day 0, stripped on day 1, off the rack and ready on day 2: what is needed on day 6 waits four days."""
SEEDS = range(6)


def stacked(problem: Problem, stack: Stack, *stripped: tuple[Turn, int]) -> Stacked:
    of = Stacked(problem, stack)
    for turn, minute in stripped:
        of.add(turn, minute)
    return of


def on_days(of: Stacked, days: range) -> list[int]:
    return [of.on(day)[0] for day in days]


def poured(day: int) -> Turn:
    return a_turn(at(day, OPENS))


# what stands there


def test_blocks_stand_on_the_stack_from_the_day_off_the_rack_to_the_day_they_are_needed() -> None:
    of = stacked(NEEDED, COLUMN, (poured(0), at(1, 500)))
    assert on_days(of, range(1, 9)) == [0, 2, 2, 2, 2, 2, 0, 0]


def test_blocks_that_are_late_are_laid_on_the_day_they_are_ready() -> None:
    old = replace(NEEDED, lay_at=7 * MINUTES_A_DAY)
    of = stacked(old, COLUMN, (poured(0), at(1, 500)))
    assert on_days(of, range(1, 9)) == [0, 2, 2, 2, 2, 2, 2, 0]


def test_blocks_that_nobody_gave_a_date_for_are_laid_when_they_are_ready() -> None:
    undated = replace(YARD, formats=(replace(BLOCK, needs=((1, 1),)),), lay_at=4 * MINUTES_A_DAY)
    of = stacked(undated, COLUMN, (poured(0), at(1, 500)))
    assert on_days(of, range(1, 6)) == [0, 2, 2, 2, 0]


def test_what_is_ready_first_goes_where_it_is_needed_first_whichever_came_first() -> None:
    """Poured on day 1 but stripped later, the second pair is ready on day 7; the first takes the need of day 6."""
    of = stacked(NEEDED, COLUMN, (poured(1), at(6, 500)), (poured(0), at(1, 500)))
    assert on_days(of, range(5, 11)) == [2, 2, 2, 2, 0, 0]


def test_columns_are_of_one_format() -> None:
    assert Stack(places=9, layers=4).columns([5, 1, 0, 4]) == 4


def test_a_turn_is_never_filled_with_more_than_the_whole_stack_holds() -> None:
    def fillable(casts: set[int], stack: Stack) -> int:
        mould = replace(MOULD, cavities=6, casts=frozenset(casts))
        return replace(YARD, formats=(BLOCK, BLOCK), moulds=(mould,), stack=stack).fillable[0]

    assert fillable({0}, Stack(places=2, layers=2)) == 4
    assert fillable({0, 1}, Stack(places=2, layers=2)) == 2
    assert fillable({0, 1}, Stack(places=7, layers=1)) == 6


# who waits for it


def test_a_strip_waits_a_day_where_the_stack_would_be_too_full_later() -> None:
    rack = Rack(replace(NEEDED, stack=COLUMN))
    rack.take(poured(0), at(1, 500))
    assert rack.room_from(poured(0), at(1, 510)) == at(2, 0)
    assert rack.room_from(poured(0), at(5, 510)) == at(6, 0)
    assert rack.room_from(poured(0), at(6, 510)) == at(6, 510)


def test_what_is_put_back_as_it_was_has_its_room_again() -> None:
    rack = Rack(replace(NEEDED, stack=COLUMN))
    before = rack.as_is()
    rack.take(poured(0), at(1, 500))
    assert rack.room_from(poured(0), at(1, 510)) > at(1, 510)
    rack.release(poured(0), at(1, 500))
    assert rack.room_from(poured(0), at(1, 510)) == at(1, 510)
    rack.take(poured(0), at(1, 500))
    rack.give_back(before)
    assert rack.room_from(poured(0), at(1, 510)) == at(1, 510)


@pytest.mark.parametrize(("stack", "stripped"), [(None, 2), (Stack(2, 2), 2), (COLUMN, 1), (Stack(3, 1), 1)])
def test_a_day_strips_no_more_than_the_stack_will_have_room_for(stack: Stack | None, stripped: int) -> None:
    problem = replace(NEEDED, stack=stack)
    turns = [poured(0), poured(0)]
    state = State(1, turns, [turn.fills[0][1] for turn in turns])
    after = DayModel(problem, Limits(problem), state, Asked()).solve(EFFORT)
    assert after is not None
    assert sum(turn.strip is not None for turn in after.turns) == stripped


@pytest.mark.parametrize(
    ("stack", "late", "finish"),
    [(None, 0, 2), (Stack(3, 4), 0, 2), (Stack(2, 4), 2, 2), (Stack(1, 4), 8, 8)],
)
def test_moulds_wait_full_for_a_small_stack_and_pours_for_moulds(stack: Stack | None, late: int, finish: int) -> None:
    """Twelve blocks, two needed on day 6 and ten on day 8; moulds hold four.

    With room for four, six can be off the rack by day 8, four more on day 9 and the last two on day 10: eight days
    late. Six are stripped by day 7, so ten poured, and the last two on day 8. With room for eight, two are late.
    """
    formats = (replace(BLOCK, demand=12, needs=((6, 2), (8, 10))),)
    problem = replace(YARD, formats=formats, stack=stack)
    found = Search(problem, Limits(problem), Effort(1.0, lambda: False), lambda _: None, rounds=0).run()
    assert found is not None
    assert found.score.stages[:2] == found.bounds[:2] == (late, finish)
    assert broken(problem, found.state) == []


@pytest.mark.parametrize(("stack", "late", "finish"), [(Stack(2, 4), 2, 6), (Stack(1, 4), 8, 8)])
def test_spares_make_no_room_as_long_as_others_are_waited_for(stack: Stack, late: int, finish: int) -> None:
    """The same with two spares: the first blocks that are ready wait for day 6, and none is laid as a spare before."""
    formats = (replace(BLOCK, demand=14, needs=((6, 2), (8, 10))),)
    problem = replace(YARD, formats=formats, stack=stack)
    found = Search(problem, Limits(problem), Effort(1.0, lambda: False), lambda _: None, rounds=1).run()
    assert found is not None
    assert found.score.stages[:2] == found.bounds[:2] == (late, finish)


def test_counts_have_what_nobody_waits_for_pass_over_the_stack_beside_what_waits_for_its_day() -> None:
    """Two of twenty wait for day 12; of the others two stand there at a time, and are laid when they are ready."""
    formats = (replace(BLOCK, demand=20, needs=((12, 2),)),)
    problem = replace(YARD, formats=formats, stack=COLUMN_OF_FOUR)
    limits = Limits(problem)
    found = Search(problem, limits, Effort(1.0, lambda: False), lambda _: None, rounds=1).run()
    assert found is not None
    assert found.score.finish < 12
    counts = Counts(problem, limits, limits.when, State(), problem.day_index[found.score.finish])
    hold(counts, found.state)
    assert run(counts.model, EFFORT).found


# invented yards


@cache
def asked_of(seed: int) -> Brief:
    return briefed(a_yard_with_a_stack(seed))


@cache
def played(seed: int) -> list[State]:
    """Quick plays, and at the end one rolled day by day."""
    problem, limits, effort = asked_of(seed).problem, Limits(asked_of(seed).problem), Effort(1.0, EFFORT.stop)
    foreman = Foreman(problem, limits, 1000)
    rolled = Roll(problem, limits, lambda state: {state.day: foreman.day(state)}, effort, foreman.worth).play()
    return [*quick_plays(problem), *([rolled] if rolled else [])]


@pytest.mark.parametrize("seed", SEEDS)
def test_every_play_of_an_invented_yard_keeps_its_stack(seed: int) -> None:
    asked = asked_of(seed)
    assert played(seed)
    for plan in played(seed):
        assert broken(asked.problem, plan) == []
        assert faults(asked, plan) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_the_counts_allow_what_is_done_with_a_stack(seed: int) -> None:
    asked = asked_of(seed)
    problem, limits = asked.problem, Limits(asked.problem)
    for plan in {id(plan): plan for plan in (played(seed)[0], played(seed)[-1])}.values():
        reached = score(problem, plan)
        last = problem.day_index[reached.finish]
        for first in {0, last // 2, last}:
            counts = Counts(problem, limits, limits.when, morning(plan, asked, first), last)
            hold(counts, plan)
            counts.model.minimize(block_days_late(counts))
            answer = run(counts.model, EFFORT)
            assert answer.found, first
            assert answer.objective <= reached.late


@pytest.mark.parametrize("seed", [0, 1, 4])
def test_no_bound_is_above_what_is_found(seed: int) -> None:
    problem = asked_of(seed).problem
    found = Search(problem, Limits(problem), Effort(1.0, EFFORT.stop), lambda _: None, rounds=0).run()
    assert found is not None
    assert found.sound
    assert all(bound <= value for bound, value in zip(found.bounds, found.score.stages, strict=True))


@pytest.mark.parametrize("seed", SEEDS)
def test_ground_for_all_changes_no_quick_play(seed: int) -> None:
    problem = asked_of(seed).problem
    none, ample = (replace(problem, stack=stack) for stack in (None, Stack(places=10_000, layers=1)))
    assert [score(none, plan) for plan in openings(none)] == [score(ample, plan) for plan in openings(ample)]


def openings(problem: Problem) -> list[State]:
    return [tried.state for tried in tries_of(problem).openings()]
