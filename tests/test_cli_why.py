"""The commands that explain: on a yard and its order, on a saved plan, and stopped by Ctrl-C."""

from __future__ import annotations

import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Final

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from blockrun.planner.plan import Plan

ROOT: Final = Path(__file__).parent.parent
INPUTS: Final = ROOT / "tests" / "plans" / "small" / "inputs"
SITE, ORDER = str(INPUTS / "site.yaml"), str(INPUTS / "order.yaml")


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture(autouse=True)
def narrow(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")


def test_why_of_a_yard_tells_the_clash_then_the_days_of_a_quick_plan(
    small_plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("blockrun.planner.make_plan", lambda *_, **__: small_plan, raising=False)
    result = run("why", SITE, ORDER)
    assert (result.exit_code, result.stderr) == (0, "")
    lines = result.stdout.splitlines()
    assert lines[:2] == ["By Wed 5 May 9 blocks are needed, and at", "most 8 can be ready."]
    assert "one more gang-2 mould." in lines
    assert any(line.startswith("Last pour ") for line in lines)
    assert max(map(len, lines)) <= 40


def test_why_of_a_saved_plan_tells_its_days(small_folder: Path) -> None:
    result = run("why", small_folder)
    assert result.exit_code == 0
    assert result.stdout.startswith("Last pour Thu 8 Apr")


def test_why_of_what_is_no_plan_says_so(tmp_path: Path) -> None:
    result = run("why", tmp_path)
    assert (result.exit_code, "no plan is saved here" in result.stderr) == (2, True)


def test_why_of_a_site_alone_says_that_its_order_is_missing() -> None:
    result = run("why", SITE)
    assert result.exit_code == 2
    said = " ".join(result.stderr.split())
    assert "is a site without its order" in said
    assert "blockrun why SITE ORDER" in said


def test_why_of_a_plan_that_fails_its_audit_says_only_that(small_folder: Path, tmp_path: Path) -> None:
    folder = tmp_path / "plan"
    shutil.copytree(small_folder, folder)
    casts = folder / "casts.csv"
    casts.write_text(casts.read_text().replace("gang-2/01", "gang-9/01"))
    result = run("why", folder)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "fails its audit" in " ".join(result.stderr.split())


def test_why_of_a_plan_reads_its_seconds_too(small_folder: Path) -> None:
    result = run("why", small_folder, "--seconds", "abc")
    assert (result.exit_code, "--seconds abc is not a number" in " ".join(result.stderr.split())) == (2, True)


@pytest.mark.parametrize("command", ["why", "whatif"])
def test_seconds_that_are_none_say_what_to_write(command: str) -> None:
    result = run(command, SITE, ORDER, "--seconds", "soon")
    assert result.exit_code == 2
    assert "for example --seconds 300" in " ".join(result.stderr.split())


def test_whatif_without_time_for_the_yard_as_it_is_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("blockrun.cli.explaining.time_allowed", lambda *_: -1)
    result = run("whatif", SITE, ORDER, "--seconds", "1", "--workers", "1")
    assert result.exit_code == 4
    assert "there was no time to solve the yard as it is" in " ".join(result.stderr.split())


SLOW: Final = """
from datetime import date
import blockrun.planner.whatif.side_by_side as slow
from blockrun.planner.whatif.solved import Solved
import time

def solve(site, order, rounds, stop):
    if slow.first:
        slow.first = False
        print("solved", flush=True)
        return Solved(0, 0, date(2027, 4, 8), date(2027, 4, 8), 3, 75.0, 3.0, None)
    while not stop():
        time.sleep(0.01)
    return None

slow.first, slow.solve = True, solve
from blockrun.cli import main
main()
"""


def test_ctrl_c_keeps_what_is_solved() -> None:
    words = ["whatif", SITE, ORDER, "--workers", "1"]
    doing = subprocess.Popen(
        [sys.executable, "-c", SLOW, *words], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert doing.stdout is not None
    assert doing.stdout.readline() == "solved\n"
    time.sleep(0.2)
    doing.send_signal(signal.SIGINT)
    said, told = doing.communicate(timeout=60)
    assert doing.returncode == 0
    assert " ".join(told.split()).startswith("Stopping; what is solved is told. Ctrl-C again")
    words_said = " ".join(said.split())
    assert "last pour Thu 8 Apr 2027" in words_said
    assert "Not solved, for there was no time: one more gang-2 mould" in words_said
