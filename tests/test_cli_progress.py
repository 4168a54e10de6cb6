"""A builder asks how the job stands."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from tests.clock import stands_at


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """The yard's clock stands in the morning of Tuesday, 6 April."""
    stands_at(monkeypatch, "2027-04-06T12:00:30")


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture
def plan(tmp_path: Path, small_folder: Path) -> Path:
    return Path(shutil.copytree(small_folder, tmp_path / "plan"))


def test_a_plan_of_which_nothing_is_recorded_is_told_all_the_same(plan: Path) -> None:
    result = run("status", plan)
    assert result.exit_code == 0
    assert result.output.splitlines()[:2] == [
        "Status Tue 6 Apr 12:00",
        "Nothing is recorded, and 1 batch should be poured by now.",
    ]
    assert not (plan / "journal.sqlite").exists()


def test_what_is_recorded_counts(plan: Path) -> None:
    run("record", plan, "poured", 1, "--at", "2027-04-05 08:24")
    run("record", plan, "counted", "cement", 2, "--at", "2027-04-05 16:00")
    run("record", plan, "sides", "tray-1/1", "--at", "2027-04-06 08:05")
    lines = run("status", plan).output.splitlines()
    assert lines[1] == "Cement out from Tue 6 Apr."
    assert "- batches: 1 of 4 poured, as planned" in lines


def test_a_batch_poured_by_a_plan_that_is_kept_took_what_that_has_for_it(plan: Path) -> None:
    """As after one made anew for an earlier moment, which knows nothing of the pour."""
    run("record", plan, "poured", 1, "--at", "2027-04-05 08:24")
    shutil.copytree(plan, plan / "earlier" / "1", ignore=shutil.ignore_patterns("earlier", "journal*"))
    casts = (plan / "casts.csv").read_text(encoding="utf-8").splitlines()
    (plan / "casts.csv").write_text("\n".join([*casts[:-1], ""]), encoding="utf-8")
    said = " ".join(run("status", plan).output.split())
    assert "1 batch poured by another plan" in said
    assert "- cement: 4 1/2 bags left" in said
    counted = run("record", plan, "counted", "cement", "4.5", "--at", "2027-04-06 11:00")
    assert "the books say" not in counted.output


def test_what_is_not_recorded_is_told_with_the_command_that_asks(plan: Path) -> None:
    run("record", plan, "poured", 1, "--at", "2027-04-05 08:24")
    said = " ".join(run("status", plan, "--at", "2027-04-06 17:00").output.split())
    assert f"strips of gang-2/01-02, tray-1/b01; blockrun record {plan} day asks" in said
    assert "The plan holds" not in said


def test_another_moment_may_be_asked_for(plan: Path) -> None:
    assert run("status", plan, "--at", "2027-04-05 07:00").output.splitlines()[1].startswith("Not begun")
    assert run("status", plan, "--at", "yesterday 07:00").output.splitlines()[0] == "Status Mon 5 Apr 07:00"


def test_what_was_assumed_may_come_from_a_file(plan: Path, tmp_path: Path) -> None:
    rates = tmp_path / "rates.yaml"
    rates.write_text("flat_batches: 7 %\n", encoding="utf-8")
    run("record", plan, "poured", 1, "--at", "2027-04-05 08:24")
    assert "assumed 7 %" in run("status", plan, "--rates", rates).output


@pytest.mark.parametrize(
    ("words", "told"),
    [(["--at", "noon"], "noon is not a day and a time"), (["--rates", "nowhere.yaml"], "there is no such file")],
)
def test_what_cannot_be_read_is_refused(plan: Path, words: list[str], told: str) -> None:
    result = run("status", plan, *words)
    assert (result.exit_code, told in result.stderr) == (2, True)


def test_a_folder_without_a_plan_is_refused(tmp_path: Path) -> None:
    result = run("status", tmp_path)
    assert "no plan is saved here" in result.stderr
