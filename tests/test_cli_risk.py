"""The command that plays a plan with things going wrong: any number of workers, rates of one's own, faults in words."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app


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
