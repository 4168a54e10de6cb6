"""A person with a phone presses a thumb into a mould, and the journal of the plan keeps it."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan, save_plan
from blockrun.planner.thumbs.pressed import ThumbTest
from blockrun.yard.journal import FILE, open_journal
from blockrun.yard.thumbs import thumbs_in
from tests.clock import stands_at

WHEN = "2027-04-06 12:45"


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """The yard's clock stands at the end of Wednesday, 21 April, unless a test sets it."""
    stands_at(monkeypatch, "2027-04-21T18:00")


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture
def plan(tmp_path: Path, small_folder: Path) -> Path:
    return Path(shutil.copytree(small_folder, tmp_path / "plan"))


def kept(plan: Path) -> list[ThumbTest]:
    """Tests that the journal of a plan holds."""
    with open_journal(plan / FILE) as journal:
        return thumbs_in(journal.entries())


def entries(plan: Path) -> int:
    with open_journal(plan / FILE) as journal:
        return len(journal)


def test_what_was_poured_before_the_first_day_of_the_plan_is_taken_as_poured_then(plan: Path) -> None:
    assert run("record", plan, "poured", "1", "--at", "2027-04-02 10:00").exit_code == 0
    begins = "the clock of the site begins on Mon 5 Apr, and gang-2/01 was pressed on Sat 3 Apr"
    for words in (["thumb", plan, "gang-2/1", "dents"], ["record", plan, "thumb", "gang-2/1", "dents"]):
        result = run(*words, "--at", "2027-04-03 08:00")
        assert result.exit_code == 2
        assert begins in " ".join(result.stderr.split())
        result = run(*words, "--at", "2027-04-06 08:00")
        assert (result.exit_code, result.stderr) == (0, "")


def test_a_thumb_is_answered_and_kept(plan: Path) -> None:
    result = run("thumb", plan, "gang-2/1", "dents", "--at", WHEN, "--note", "in a\ncorner")
    assert (result.exit_code, result.stderr) == (0, "")
    assert "STRIP NOT BEFORE Wed 7 Apr 08:00, unless a thumb is firm sooner, planned 12:50" in result.output
    (test,) = kept(plan)
    assert (test.mould, test.thumb, test.note) == ("gang-2/01", "dents", "in a corner")


def test_the_same_test_twice_is_kept_once(plan: Path) -> None:
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN)
    again = run("thumb", plan, "gang-2/1", "DENTS", "--at", "2027-04-06T12:45")
    assert "It was known already: 1 test in the journal" in again.output
    assert entries(plan) == 1


def test_a_test_that_was_undone_may_be_made_again(plan: Path) -> None:
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN)
    assert run("record", plan, "undo", "last").exit_code == 0
    assert kept(plan) == []
    assert "Kept: 1 test in the journal" in run("thumb", plan, "gang-2/01", "dents", "--at", WHEN).output
    assert [test.entry for test in kept(plan)] == [3]


def test_further_tests_keep_those_before_them(plan: Path) -> None:
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN, "--note", "damp")
    run("thumb", plan, "gang-2/02", "firm", "--at", WHEN)
    assert [(test.mould, test.note) for test in kept(plan)] == [("gang-2/01", "damp"), ("gang-2/02", "")]


def test_a_refused_test_is_not_kept(plan: Path) -> None:
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN)
    assert run("thumb", plan, "gang-2/01", "hard", "--at", WHEN).exit_code == 2
    assert run("thumb", plan, "gang-9/01", "firm", "--at", WHEN).exit_code == 2
    assert entries(plan) == 1


def test_now_is_the_moment_unless_told(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stands_at(monkeypatch, "2027-04-06T12:45:31")
    assert run("thumb", plan, "gang-2/01", "dents").exit_code == 0
    assert run("thumb", plan, "gang-2/02", "firm", "--at", "10:30").exit_code == 0
    assert run("thumb", plan, "gang-2/02", "soft", "--at", "yesterday 16:00").exit_code == 0
    when = [test.pressed.isoformat(timespec="minutes") for test in kept(plan)]
    assert when == ["2027-04-05T16:00", "2027-04-06T10:30", "2027-04-06T12:45"]


def test_a_thumb_that_was_recorded_among_other_things_is_one_of_them(plan: Path) -> None:
    run("record", plan, "poured", "1", "--at", "2027-04-05 09:00")
    run("record", plan, "thumb", "gang-2/1", "dents", "--at", WHEN, "--remark", "damp")
    (test,) = kept(plan)
    assert (test.turn, test.batches, test.mix, test.poured.hour, test.note) == (1, (1,), "light", 9, "damp")
    assert 23 < test.age_h < 24
    assert "gang-2/01: strip NOT BEFORE" in run("days", plan).output
    assert "damp), entry 2" in run("thumb", plan).output


def test_what_is_recorded_counts_before_the_plan(plan: Path) -> None:
    run("record", plan, "poured", "1", "--at", "2027-04-05 14:00")
    shown = run("thumb", plan, "gang-2/1", "firm", "--at", WHEN).output
    assert "poured Mon 5 Apr 14:00" in shown
    run("record", plan, "stripped", "gang-2/1", "--at", "2027-04-06 13:10")
    result = run("thumb", plan, "gang-2/1", "firm", "--at", "2027-04-06 13:30")
    assert (result.exit_code, "nothing stands in gang-2/01" in result.stderr) == (2, True)


def test_air_that_was_seen_makes_a_block_older_or_younger(plan: Path) -> None:
    run("record", plan, "weather", "2", "6", "2027-04-05")
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN)
    assert kept(plan)[0].age_h < 22


def test_tables_changed_by_hand_are_told_before_the_answer(plan: Path) -> None:
    table = plan / "tasks.csv"
    table.write_text(table.read_text(encoding="utf-8").replace("08:00", "08:01", 1), encoding="utf-8")
    result = run("thumb", plan, "gang-2/02", "dents", "--at", WHEN)
    assert result.output.startswith("tasks.csv was changed since it was saved")
    assert "STRIP NOT BEFORE" in result.output


def test_days_tell_what_waits(plan: Path) -> None:
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN)
    shown = run("days", plan, "--from", "2027-04-06", "--to", "2027-04-06").output
    assert "gang-2/01: strip NOT BEFORE Wed 7 Apr 08:00: dents at 12:45" in shown


def test_the_audit_and_the_other_commands_mind_no_thumbs(plan: Path) -> None:
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN)
    assert run("audit", plan).exit_code == 0
    assert run("materials", plan).exit_code == 0
    assert load_plan(plan).changed == ()


def test_a_plan_that_replaces_another_keeps_its_thumbs(plan: Path, small_plan: Plan) -> None:
    run("thumb", plan, "gang-2/01", "dents", "--at", WHEN)
    before = kept(plan)
    save_plan(small_plan, plan, replace=True)
    assert kept(plan) == before
    assert small_plan.site.calendar.start == date(2027, 4, 5)
