"""Ctrl-C while a plan is made: the best one is kept, and a second one leaves at once."""

from __future__ import annotations

import os
import signal
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

import pytest

from blockrun.planner.saved import load_plan
from tests.begun import beginning

Started = Callable[..., subprocess.Popen[str]]

SLOW: Final = """
import signal, sys, time
from pathlib import Path
from blockrun.errors import NoPlanInTime
from blockrun.planner.guard import Guard
from blockrun.planner.saved import load_plan

def plan(guard, site, order, beside):
    print("planning", flush=True)
    while not ({heeds} and guard.stopped()):
        time.sleep(0.01)
    if {empty}:
        raise NoPlanInTime("no plan was found in the time given", "Give it longer.")
    return load_plan("tests/plans/small")

def doubled(number, handler):
    return set_handler(number, (lambda *how: (handler(*how), handler(*how))) if callable(handler) else handler)

if {twice}:
    set_handler, signal.signal = signal.signal, doubled
Guard.plan = plan
from blockrun.cli import main
main()
"""


@pytest.fixture
def start_slow(inputs: tuple[Path, Path], tmp_path: Path) -> Iterator[Started]:
    """Begin a plan that takes for ever, and come back when it is at it."""
    with beginning() as begin:

        def start(heeds: bool, empty: bool = False, twice: bool = False) -> subprocess.Popen[str]:
            script = SLOW.format(heeds=heeds, empty=empty, twice=twice)
            return begin(script, *_words(inputs, tmp_path), says="planning")

        yield start


def _words(inputs: tuple[Path, Path], tmp_path: Path) -> tuple[object, ...]:
    return "plan", *inputs, "--out", tmp_path / "plan", "--repeatable"


def test_ctrl_c_keeps_the_best_plan(start_slow: Started, tmp_path: Path) -> None:
    doing = start_slow(True)
    doing.send_signal(signal.SIGINT)
    shown, told = doing.communicate(timeout=30)
    assert (doing.returncode, told) == (0, "Stopping; a plan found so far is kept. Ctrl-C again leaves at once.\n")
    assert "saved in" in shown
    assert load_plan(tmp_path / "plan").order.name == "Garden wall"


def test_ctrl_c_before_a_first_plan_says_that_nothing_was_saved(start_slow: Started, tmp_path: Path) -> None:
    doing = start_slow(True, empty=True)
    doing.send_signal(signal.SIGINT)
    _, told = doing.communicate(timeout=30)
    assert doing.returncode == 130
    assert told.splitlines()[1:] == ["Stopped before there was a plan; nothing was saved."]
    assert not (tmp_path / "plan").exists()


def test_one_ctrl_c_that_comes_twice_keeps_the_best_plan(start_slow: Started, tmp_path: Path) -> None:
    """A program that runs ours passes a Ctrl-C on that the terminal has sent us already."""
    doing = start_slow(True, twice=True)
    doing.send_signal(signal.SIGINT)
    _, told = doing.communicate(timeout=30)
    assert (doing.returncode, told) == (0, "Stopping; a plan found so far is kept. Ctrl-C again leaves at once.\n")
    assert load_plan(tmp_path / "plan").order.name == "Garden wall"


def test_a_second_ctrl_c_leaves_at_once(start_slow: Started, tmp_path: Path) -> None:
    doing = start_slow(False)
    doing.send_signal(signal.SIGINT)
    assert doing.stderr is not None
    assert doing.stderr.readline().startswith("Stopping")
    doing.send_signal(signal.SIGINT)
    _, told = doing.communicate(timeout=30)
    assert (doing.returncode, told) == (130, "Stopped at once; nothing was saved.\n")
    assert not (tmp_path / "plan").exists()


HANGS: Final = """
from blockrun.planner.guard import Guard

def plan(guard, site, order, beside):
    guard.progress = lambda known: print("a plan", flush=True)
    return as_it_is(guard, site, order, beside, work="tests.planner.faults:hangs")

as_it_is, Guard.plan = Guard.plan, plan
from blockrun.cli import main
main()
"""


def test_ctrl_c_stops_the_search_beside_without_a_word_of_it(inputs: tuple[Path, Path], tmp_path: Path) -> None:
    with beginning() as begin:
        doing = begin(HANGS, *_words(inputs, tmp_path), says="a plan")
        os.killpg(doing.pid, signal.SIGINT)  # as a terminal does, to all that run in it
        shown, told = doing.communicate(timeout=60)
    assert (doing.returncode, told) == (0, "Stopping; a plan found so far is kept. Ctrl-C again leaves at once.\n")
    assert "saved in" in shown
