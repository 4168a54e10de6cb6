"""The command that plays a plan with things going wrong: any number of workers, rates of one's own, faults in words."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copytree
from typing import Final

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from tests.begun import beginning

ROOT: Final = Path(__file__).parents[1]


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture(autouse=True)
def narrow(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")


def test_a_plan_is_played_and_told_in_the_width_of_a_phone(small_folder: Path) -> None:
    result = run("risk", small_folder, "--runs", 30, "--workers", 1)
    assert (result.exit_code, result.stderr) == (0, "")
    lines = result.stdout.splitlines()
    assert lines[0] == "Garden wall: 30 runs of this plan,"
    assert max(map(len, lines)) <= 40


def test_the_same_seed_says_the_same_with_more_workers(small_folder: Path) -> None:
    one, two, other = (
        run("risk", small_folder, "--runs", 60, "--seed", seed, "--workers", n).stdout
        for seed, n in ((1, 1), (1, 2), (2, 1))
    )
    assert one == two
    assert one != other


def test_rates_come_from_a_file_and_options_go_before_it(small_folder: Path, tmp_path: Path) -> None:
    rates = tmp_path / "rates.yaml"
    rates.write_text("flat_batches: 7 %\ndays_lost: 9 %\n", encoding="utf-8")
    said = run("risk", small_folder, "--runs", 2, "--workers", 1, "--rates", rates, "--lost", "0%").stdout
    words = " ".join(said.split())
    assert "7 % of batches go flat" in words
    assert "0 % of these are lost" in words


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--flat", "0.1"], "--flat: 0.1 is not a percentage"),
        (["--rates", "nowhere.yaml"], "nowhere.yaml"),
    ],
)
def test_a_fault_ends_in_words(small_folder: Path, words: list[str], said: str) -> None:
    result = run("risk", small_folder, "--runs", 1, *words)
    assert result.exit_code == 2
    assert said in " ".join(result.stderr.split())
    assert "Traceback" not in result.stderr


def test_a_folder_without_a_plan_is_refused(tmp_path: Path) -> None:
    assert "no plan is saved here" in " ".join(run("risk", tmp_path, "--runs", 1).stderr.split())


def test_a_plan_that_fails_its_audit_is_not_played(small_folder: Path, tmp_path: Path) -> None:
    spoilt = copytree(small_folder, tmp_path / "spoilt")
    batches = spoilt / "batches.csv"
    batches.write_text(batches.read_text(encoding="utf-8").replace("drum", "barrel"), encoding="utf-8")
    result = run("risk", spoilt, "--runs", 1, "--workers", 1)
    said = " ".join(result.stderr.split())
    assert (result.exit_code, result.stdout) == (2, "")
    assert 'this plan fails its audit, and nothing is made of it: there is no mixer "barrel"' in said
    assert "blockrun audit" in said


def test_broken_says_all_that_breaks(small_folder: Path) -> None:
    said = " ".join(run("risk", small_folder, "--runs", 2, "--workers", 1, "--broken", "0%").stdout.split())
    assert "0 % of blocks break at the strip and 0 % when moved" in said


SLOW: Final = """
import time
from blockrun.yard import answers

def slow(setting, rates, seed, runs, executor, stop, tell):
    for _ in range(2):
        executor.submit(time.sleep, {hangs})
    print("playing", flush=True)
    while not stop():
        time.sleep(0.01)
    played = as_it_is(setting, rates, seed, 25, None, lambda: False, tell)
    print("played", flush=True)
    return played

as_it_is, answers.sweep = answers.sweep, slow
from blockrun.cli import main
if __name__ == "__main__":
    main()
"""

STOPPING: Final = "Stopping; the runs played so far count. Ctrl-C again leaves at once."
Started = Callable[[float], subprocess.Popen[str]]


@pytest.fixture
def start_slow(small_folder: Path) -> Iterator[Started]:
    """Begin many runs, two workers being busy for so many seconds, and come back when these are at it."""
    with beginning() as begin:
        words = "risk", small_folder, "--runs", 5000, "--workers", 2
        yield lambda hangs: begin(SLOW.format(hangs=hangs), *words, says="playing")


def test_ctrl_c_counts_what_is_played_and_says_how_little_that_is(start_slow: Started) -> None:
    doing = start_slow(0)
    os.killpg(doing.pid, signal.SIGINT)  # as a terminal does, to all that run in it
    shown, told = doing.communicate(timeout=60)
    assert (doing.returncode, " ".join(told.split())) == (0, STOPPING)
    said = " ".join(shown.split())
    assert said.startswith("played Garden wall: 25 runs of this plan, things going wrong by chance")
    assert "Stopped: 25 of 5,000 runs are played." in said


def test_a_second_ctrl_c_leaves_at_once_though_workers_are_busy(start_slow: Started) -> None:
    doing = start_slow(600)
    os.killpg(doing.pid, signal.SIGINT)
    assert doing.stderr is not None
    assert doing.stdout is not None
    assert " ".join((doing.stderr.readline() + doing.stderr.readline()).split()) == STOPPING
    assert doing.stdout.readline() == "played\n"
    time.sleep(0.5)  # until it waits for the workers
    os.killpg(doing.pid, signal.SIGINT)
    shown, told = doing.communicate(timeout=60)
    assert (doing.returncode, shown) == (130, "")
    # Python's own tracker of semaphores, a process by itself, may clean up after it, and say so
    assert told.startswith("Stopped at once; nothing was saved.\n")
    assert "Traceback" not in told
