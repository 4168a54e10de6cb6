"""Searches that go wrong, for ``Guard.plan`` to run in the place of the real one."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from blockrun.optimiser.best import Known
from blockrun.optimiser.entry import search
from blockrun.optimiser.outcome import Outcome
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.sawing.plan import ToSaw

HERE: Final = f"{__name__}:"

Tell = Callable[[Known], None]
Stop = Callable[[], bool]


def told(problem: Problem, seed: int, tell: Tell) -> Known:
    """What a short search knows, told at once."""
    heard: list[Known] = []
    search(problem, seed, 0, stop=lambda: bool(heard), tell=heard.append)
    tell(heard[0])
    return heard[0]


def crashes(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    told(problem, seed, tell)
    return crashes_at_once(problem, seed, rounds, stop=stop, tell=tell)


def crashes_at_once(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    os.kill(os.getpid(), signal.SIGSEGV)
    raise AssertionError


def crashes_unless_short(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    if rounds:
        os.kill(os.getpid(), signal.SIGSEGV)
    return search(problem, seed, rounds, stop=stop, tell=tell)


def is_killed(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    told(problem, seed, tell)
    os.kill(os.getpid(), signal.SIGKILL)
    raise AssertionError


def runs_out_of_memory(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    told(problem, seed, tell)
    raise MemoryError


def breaks_down(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    told(problem, seed, tell)
    raise ValueError("invalid model: no variable 7")


def hangs(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    told(problem, seed, tell)
    return hangs_at_once(problem, seed, rounds, stop=stop, tell=tell)


def hangs_at_once(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    while True:
        time.sleep(1)


def saws_for_ever(found: Sequence[ToSaw], seed: int, *, stop: Stop, tell: Tell) -> None:
    while True:
        time.sleep(1)


def ends_when_asked(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    known = told(problem, seed, tell)
    while not stop():
        time.sleep(0.01)
    return Outcome(known.found(), broke="it was asked to stop")


def is_frozen(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    """All its threads, as where the machine has no memory left to give."""
    told(problem, seed, tell)
    os.kill(os.getpid(), signal.SIGSTOP)
    raise AssertionError


def is_wrong_at_the_end(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    """A good plan, then a better one that never was."""
    good = told(problem, seed, tell).found()
    assert good
    state = replace(good.state, turns=good.state.turns[1:])
    return Outcome(replace(good, state=state, score=replace(good.score, pours=0)))


def is_wrong(problem: Problem, seed: int, rounds: int, *, stop: Stop, tell: Tell) -> Outcome:
    """Only a plan that never was."""
    heard: list[Known] = []
    good = told(problem, seed, heard.append).found()
    assert good
    return Outcome(replace(good, state=replace(good.state, turns=good.state.turns[1:])))
