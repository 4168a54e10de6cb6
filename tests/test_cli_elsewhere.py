"""Commands that write a plan for other programs, as they are typed."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pytest
from icalendar import Calendar
from typer.testing import CliRunner, Result

from blockrun.cli import app


@pytest.fixture
def folder(small_folder: Path, tmp_path: Path) -> Path:
    """The small plan, made at a known moment."""
    folder = Path(shutil.copytree(small_folder, tmp_path / "plan"))
    made(folder, "2027-03-01T18:30:00+01:00")
    return folder


def made(folder: Path, when: str) -> None:
    (folder / "run.json").write_text(json.dumps({"when": when}), encoding="utf-8")


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words], env={"COLUMNS": "80"})


def out_of(result: Result) -> str:
    """All that it printed, as one line."""
    return " ".join(f"{result.stdout} {result.stderr}".split())


def sequences(path: Path) -> dict[str, int]:
    events = Calendar.from_ical(path.read_text(encoding="utf-8")).walk("VEVENT")
    return {f"{event['UID']} {event['STATUS']}": event["SEQUENCE"] for event in events}


def test_a_calendar_says_what_it_holds_and_what_to_do_with_it(folder: Path, tmp_path: Path) -> None:
    result = run("calendar", folder, "--out", tmp_path / "a.ics")
    assert result.exit_code == 0, result.stderr
    assert "21 entries: 21 new, 0 changed, 0 cancelled. Import it into a calendar of its own." in out_of(result)
    assert len(sequences(tmp_path / "a.ics")) == 21


def test_a_plan_made_anew_rises_in_sequence_in_the_place_of_the_old_file(folder: Path, tmp_path: Path) -> None:
    run("calendar", folder, "--out", tmp_path / "a.ics")
    first = sequences(tmp_path / "a.ics")
    made(folder, "2027-03-01T18:30:10+01:00")
    result = run("calendar", folder, "--out", tmp_path / "a.ics", "--replace")
    assert "0 new, 0 changed, 0 cancelled" in out_of(result)
    assert sequences(tmp_path / "a.ics") == {uid: number + 10 for uid, number in first.items()}


def test_what_fell_away_is_cancelled_by_the_file_written_before(folder: Path, tmp_path: Path) -> None:
    run("calendar", folder, "--out", tmp_path / "a.ics")
    before = (tmp_path / "a.ics").read_bytes()
    run("thumb", folder, "gang-2/01", "soft", "--at", "2027-04-06 12:50")
    run("calendar", folder, "--out", tmp_path / "b.ics", "--update", tmp_path / "a.ics")
    assert len(sequences(tmp_path / "b.ics")) > 15
    run("record", folder, "undo", "last")
    result = run("calendar", folder, "--out", tmp_path / "c.ics", "--update", tmp_path / "b.ics")
    assert "21 entries: 0 new, 1 changed, 2 cancelled." in out_of(result)
    assert sum(uid.endswith("CANCELLED") for uid in sequences(tmp_path / "c.ics")) == 2
    assert (tmp_path / "a.ics").read_bytes() == before


def test_a_plan_whose_run_says_nothing_has_a_calendar_all_the_same(folder: Path, tmp_path: Path) -> None:
    (folder / "run.json").unlink()
    assert run("calendar", folder, "--out", tmp_path / "a.ics").exit_code == 0
    assert set(sequences(tmp_path / "a.ics").values()) == {0}


def test_a_file_that_is_there_stays_unless_told(folder: Path, tmp_path: Path) -> None:
    run("calendar", folder, "--out", tmp_path / "a.ics")
    result = run("calendar", folder, "--out", tmp_path / "a.ics")
    assert (result.exit_code, "exists already" in out_of(result)) == (2, True)


def test_what_is_no_calendar_is_never_replaced_by_one(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "a.ics").write_text("dear", encoding="utf-8")
    result = run("calendar", folder, "--out", tmp_path / "a.ics", "--replace")
    assert (result.exit_code, "is no calendar of days" in out_of(result)) == (2, True)
    assert (tmp_path / "a.ics").read_text(encoding="utf-8") == "dear"


@pytest.mark.parametrize(("command", "ending"), [("calendar", ".ics"), ("workbook", ".xlsx")])
def test_a_file_named_as_something_else_is_refused(folder: Path, tmp_path: Path, command: str, ending: str) -> None:
    result = run(command, folder, "--out", tmp_path / "a.pdf")
    assert result.exit_code == 2
    assert f"a{ending}" in out_of(result)


@pytest.mark.parametrize(("command", "ending"), [("calendar", ".ics"), ("workbook", ".xlsx")])
def test_a_plan_that_fails_its_audit_is_not_handed_out(folder: Path, tmp_path: Path, command: str, ending: str) -> None:
    casts = (folder / "casts.csv").read_text(encoding="utf-8")
    (folder / "casts.csv").write_text(casts.replace(",east,", ",west,"), encoding="utf-8")
    result = run(command, folder, "--out", tmp_path / f"a{ending}")
    assert (result.exit_code, "this plan fails its audit" in out_of(result)) == (2, True)
    assert list(tmp_path.iterdir()) == [folder]


def test_a_workbook_is_the_same_bytes_again(folder: Path, tmp_path: Path) -> None:
    assert run("workbook", folder, "--out", tmp_path / "a.xlsx").exit_code == 0
    assert run("workbook", folder, "--out", tmp_path / "b.xlsx").exit_code == 0
    assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()


@pytest.mark.parametrize(("command", "ending"), [("calendar", ".ics"), ("workbook", ".xlsx")])
def test_a_full_disk_leaves_the_old_file_and_no_half_one(
    folder: Path, tmp_path: Path, full_disk: Callable[[int], AbstractContextManager[None]], command: str, ending: str
) -> None:
    out = tmp_path / f"a{ending}"
    run(command, folder, "--out", out)
    before = out.read_bytes()
    made(folder, "2027-03-02T18:30:00+01:00")
    with full_disk(2000):
        result = run(command, folder, "--out", out, "--replace")
    assert (result.exit_code, "Make room on the disk" in out_of(result)) == (2, True)
    assert out.read_bytes() == before
    assert sorted(tmp_path.iterdir()) == [out, folder]


@pytest.mark.parametrize(("command", "ending"), [("calendar", ".ics"), ("workbook", ".xlsx")])
def test_neither_command_waits_for_the_solver_or_the_press(
    folder: Path, tmp_path: Path, command: str, ending: str
) -> None:
    script = (
        "import sys\nfrom blockrun.cli import main\n"
        "try:\n    main()\nexcept SystemExit:\n    print(' '.join({name.split('.')[0] for name in sys.modules}))"
    )
    words = [sys.executable, "-c", script, command, str(folder), "--out", str(tmp_path / f"a{ending}")]
    shown = subprocess.run(words, capture_output=True, text=True, check=True).stdout
    assert not set(shown.splitlines()[-1].split()) & {"ortools", "typst", "scipy"}
