"""The second player gives what the first would have come to, is stopped with it, and may be lost."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing import active_children

import pytest

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.second import Second, Task
from blockrun.optimiser.quick.tries import Tried, Tries
from blockrun.optimiser.score import Score
from tests.optimiser.quick.test_plays import briefed
from tests.yards import a_yard


def problem() -> Problem:
    return briefed(a_yard(14)).problem


def tries_of(asked: Problem, stop: Callable[[], bool] = lambda: False) -> Tries:
    return Tries(Ground(asked, Limits(asked)), 0, stop)


@contextmanager
def second(asked: Problem, first: Tries, *, alone: bool) -> Iterator[Second]:
    player = Second(asked, first)
    if not alone:
        others = {*threading.enumerate()}
        player.come()
        for fetching in {*threading.enumerate()} - others:
            fetching.join()  # it has come then
    try:
        yield player
    finally:
        player.close()


def scores(plans: list[Tried]) -> list[Score]:
    return [tried.score for tried in plans]


TASKS = {
    "plays": lambda known: Task(known, 60, "test"),
    "laps": lambda known: Task(known, 4, "test", laps=True),
    "openings": lambda _: Task(openings=(2, 3)),
}


@pytest.mark.parametrize("kind", TASKS)
def test_a_second_player_gives_what_the_first_would_have(kind: str) -> None:
    asked = problem()
    first = tries_of(asked)
    task = TASKS[kind](tuple(first.openings()))
    found = []
    for alone in (True, False):
        with second(asked, first, alone=alone) as player:
            player.ask(task)
            found.append(scores(player.answer()))
    assert found[0] == found[1] != []


def test_all_that_comes_of_a_task_is_told() -> None:
    first = tries_of(problem())
    known = tuple(first.openings())
    for task in (make(known) for make in TASKS.values()):
        told: list[Tried] = []
        found = task.done_by(first, told.append)
        assert found
        assert {tried.score for tried in found} <= {tried.score for tried in told}


def test_set_policies_played_by_their_numbers_are_those_played_together() -> None:
    first = tries_of(problem())
    some = [first.openings(numbers=numbers) for numbers in ((0,), range(1, 4), range(4, first.n_openings))]
    assert scores([tried for of in some for tried in of]) == scores(list(first.openings()))


def test_what_a_lost_player_was_to_do_the_first_does() -> None:
    asked = problem()
    first = tries_of(asked)
    task = Task(tuple(first.openings()), 60, "test")
    with second(asked, first, alone=False) as player:
        for process in active_children():
            process.kill()
            process.join()
        player.ask(task)
        assert scores(player.answer()) == scores(task.done_by(first)) != []


def test_a_second_player_stops_when_the_first_does() -> None:
    asked = problem()
    told: list[bool] = []
    first = tries_of(asked, lambda: bool(told))
    task = Task(tuple(first.openings()), 1_000_000_000, "test")
    with second(asked, first, alone=False) as player:
        player.ask(task)
        told.append(True)
        waiting = threading.Thread(target=player.answer, daemon=True)
        waiting.start()
        waiting.join(20)
        assert not waiting.is_alive()


def test_a_second_player_goes_when_it_is_let_go() -> None:
    asked = problem()
    with second(asked, tries_of(asked), alone=False):
        (process,) = active_children()
    process.join(20)
    assert not process.is_alive()
