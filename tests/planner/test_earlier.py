"""Plans before the one in hand: kept and brought back whole, beside a journal that is written to meanwhile."""

from __future__ import annotations

import json
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager, closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from blockrun.errors import BadInput, BadPlan
from blockrun.planner.as_planned import load_as_planned
from blockrun.planner.begun.facts import Begun
from blockrun.planner.earlier import bring_back, number_of, set_aside
from blockrun.planner.folder import earlier_plans
from blockrun.planner.own_files import own_files
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan, save_plan
from blockrun.yard.journal import FILE, create_journal, open_journal
from tests.files.killed import killed_at_each_step
from tests.yard.journal.made import ROOT, WRITER, note

Folder = Callable[..., Path]
ELSEWHERE = ("notes.txt", "../elsewhere.txt", "inputs/../../elsewhere.txt", "inputs/..")
SINCE = datetime.fromisoformat("2027-04-05 07:00")


def anew(plan: Plan, number: int = 2) -> Plan:
    """The same plan, made anew when nothing had happened yet: its folder has one file more."""
    return replace(plan, begun=Begun(since=SINCE, number=number, after=number - 1))


@pytest.fixture(scope="module")
def kept(small_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two folders to copy: with the first plan of a job in hand, and with the second one."""
    place = tmp_path_factory.mktemp("kept")
    folder = Path(shutil.copytree(small_folder, place / "first"))
    create_journal(folder / FILE)
    with open_journal(folder / FILE) as journal:
        journal.append(map(note, range(5)))
    (folder / "notes.txt").write_text("dear")
    (folder / "inputs" / "remark.txt").write_text("mine")
    go_on(Path(shutil.copytree(folder, place / "second")))
    return place


@pytest.fixture
def first(kept: Path, tmp_path: Path) -> Folder:
    """Makes folders with the first plan of a job, a journal of five entries and somebody's notes."""
    return lambda name="job": Path(shutil.copytree(kept / "first", tmp_path / str(name)))


@pytest.fixture
def second(kept: Path, tmp_path: Path) -> Folder:
    """The same, with the second plan in hand and the first one kept."""
    return lambda name="job": Path(shutil.copytree(kept / "second", tmp_path / str(name)))


def go_on(folder: Path) -> None:
    """As `replan` does when it has its plan."""
    plan = load_plan(folder)
    set_aside(folder)
    save_plan(anew(plan), folder, replace=True)


def own(folder: Path) -> dict[str, bytes]:
    return {name: (folder / name).read_bytes() for name in own_files(folder)}


def assert_all_kept(folder: Path) -> None:
    with open_journal(folder / FILE, read_only=True) as journal:
        assert [entry.key for entry in journal.entries()] == [f"k{number}" for number in range(5)]
    assert (folder / "notes.txt").read_text() == "dear"
    assert (folder / "inputs" / "remark.txt").read_text() == "mine"


def hidden(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.name.startswith(".")]


def test_a_plan_goes_aside_and_comes_back_byte_for_byte(first: Folder) -> None:
    folder = first()
    before = own(folder)
    go_on(folder)
    second = own(folder)
    assert "inputs/begun.json" in second
    assert own(folder / "earlier" / "1") == before
    assert bring_back(folder) == (2, 1)
    assert own(folder) == before
    assert own(folder / "earlier" / "2") == second
    assert not (folder / "inputs" / "begun.json").exists()
    assert hidden(folder) == []
    assert_all_kept(folder)


def test_only_what_is_of_the_plan_is_kept_of_it(first: Folder) -> None:
    folder = first()
    assert set_aside(folder) == 1
    kept = {str(path.relative_to(folder / "earlier/1")) for path in (folder / "earlier/1").rglob("*.*")}
    assert kept == set(own_files(folder))


def test_a_table_that_the_plan_before_has_not_goes_when_it_comes_back(second: Folder) -> None:
    folder = second()
    (folder / "earlier" / "1" / "run.json").unlink()
    bring_back(folder)
    assert not (folder / "run.json").exists()


def test_wherever_going_on_is_killed_a_whole_plan_and_all_entries_are_there(first: Folder) -> None:
    numbers = []
    for folder in killed_at_each_step(first, go_on, every=3):
        plan = load_plan(folder)
        assert plan.changed == ()
        assert [number_of(folder), (folder / "inputs" / "begun.json").exists()] in ([1, False], [2, True])
        assert len(load_as_planned(folder).casts) == len(plan.tables.casts)
        assert_all_kept(folder)
        numbers.append(number_of(folder))
    assert sorted(numbers) == numbers, "once the new one counts it does"
    assert set(numbers) == {1, 2}


def test_wherever_going_back_is_killed_a_whole_plan_and_all_entries_are_there(second: Folder) -> None:
    numbers = []
    for folder in killed_at_each_step(second, bring_back, every=3):
        assert load_plan(folder).changed == ()
        assert [number_of(folder), (folder / "inputs" / "begun.json").exists()] in ([1, False], [2, True])
        assert 1 in earlier_plans(folder)
        assert_all_kept(folder)
        numbers.append(number_of(folder))
    assert sorted(numbers, reverse=True) == numbers, "once the old one is back it is"
    assert set(numbers) == {1, 2}


def test_somebody_who_records_all_the_time_loses_nothing_while_plans_come_and_go(second: Folder) -> None:
    folder = second()
    words = [sys.executable, "-c", WRITER, str(folder / FILE), "all the time"]
    with subprocess.Popen(words, cwd=ROOT, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        acknowledged = [writer.stdout.readline().strip()]
        for _ in range(10):
            bring_back(folder)
            acknowledged.append(writer.stdout.readline().strip())
            go_on(folder)
            acknowledged.append(writer.stdout.readline().strip())
        writer.kill()
        acknowledged += writer.stdout.read().split("\n")[:-1]
    with open_journal(folder / FILE) as journal:
        keys = {entry.key for entry in journal.entries()}
    assert len(acknowledged) > 20
    assert [key for key in acknowledged if key not in keys] == []


def test_a_write_that_was_broken_off_is_still_taken_back_after_a_plan_came(first: Folder) -> None:
    folder = first()
    with closing(sqlite3.connect(folder / FILE, isolation_level=None)) as database:
        database.execute("BEGIN IMMEDIATE")
        beside = {path.name: path.stat().st_ino for path in folder.glob(f"{FILE}*")}
        go_on(folder)
        assert {path.name: path.stat().st_ino for path in folder.glob(f"{FILE}*")} == beside
        database.execute("ROLLBACK")
    assert_all_kept(folder)


@pytest.mark.parametrize("work", [go_on, bring_back])
def test_a_full_disk_leaves_the_plan_in_hand_and_all_else(
    work: Callable[[Path], object], second: Folder, full_disk: Callable[[int], AbstractContextManager[None]]
) -> None:
    folder = second()
    before = own(folder)
    with full_disk(1000), pytest.raises(BadInput, match="File too large"):
        work(folder)
    assert own(folder) == before
    assert hidden(folder) == []
    assert_all_kept(folder)


def test_a_plan_kept_that_cannot_be_read_any_more_takes_no_place(second: Folder) -> None:
    folder = second()
    (folder / "earlier" / "1" / "casts.csv").unlink()
    before = own(folder)
    with pytest.raises(BadPlan, match=r"casts\.csv"):
        bring_back(folder)
    assert own(folder) == before


def test_a_plan_json_that_names_files_elsewhere_lets_none_of_them_go(first: Folder) -> None:
    folder = first()
    facts = json.loads((folder / "plan.json").read_text())
    facts["references"]["site"] |= {name: name for name in ELSEWHERE}
    (folder / "plan.json").write_text(json.dumps(facts))
    (folder.parent / "elsewhere.txt").write_text("theirs")
    assert "inputs/wall.csv" in own_files(folder)
    assert not set(ELSEWHERE) & set(own_files(folder))
    assert all(".." not in name for name in own_files(folder))
