"""A yard looks at what it has learnt, on a phone and on a screen, and has some of it written."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from blockrun.planner.as_planned import load_as_planned
from blockrun.yard.journal import FILE, create_journal, open_journal
from tests.yard.learn.invented import Truth, Yard

ROOT = Path(__file__).parent.parent


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """The demo's plan with all of it recorded: batches take longer, and more stays in the drum."""
    folder = Path(shutil.copytree(ROOT / "tests" / "plans" / "demo", tmp_path / "plan"))
    truth = Truth(batch_min=4, left_l=10, made=0.01)
    create_journal(folder / FILE)
    with open_journal(folder / FILE) as journal:
        journal.append(Yard(load_as_planned(folder), truth).entries())
    return folder


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return Path(shutil.copytree(ROOT / "examples" / "demo", tmp_path / "yard")) / "site.yaml"


def learn(*words: object) -> Result:
    return CliRunner().invoke(app, ["learn", *map(str, words)])


def test_each_thing_is_told_with_what_the_site_says_and_what_was_seen(plan: Path) -> None:
    shown = learn(plan).output
    assert "A batch of drum\n  site: 28 min, longer where its foam takes longer; pour_time 10 min of it\n" in shown
    assert "pours in a row: 4 min longer each than planned\n  so: pour_time 10 min -> 14 min\n" in shown
    assert "An interval that is likely holds the truth in 95 of 100 such yards." in shown
    assert "  20 - pour_time: 10 min\n  20 + pour_time: 14 min\n" in shown
    assert f"blockrun learn {plan} --write SITE" in shown


def test_nothing_is_written_unless_told(plan: Path, site: Path) -> None:
    files = [*plan.rglob("*"), *site.parent.rglob("*")]
    before = {path: path.read_bytes() for path in files if path.is_file()}
    assert learn(plan).exit_code == 0
    assert {path: path.read_bytes() for path in [*plan.rglob("*"), *site.parent.rglob("*")] if path.is_file()} == before


def test_told_to_it_writes_and_names_both_files(plan: Path, site: Path) -> None:
    old = site.read_text()
    result = learn(plan, "--only", "pour_time", "--write", site)
    assert result.exit_code == 0, result.output
    assert site.read_text() == old.replace("pour_time: 10 min", "pour_time: 14 min")
    assert f"{site} is written" in " ".join(result.output.split())
    assert "The old one is kept as site-before.yaml beside it." in result.output
    assert site.with_name("site-before.yaml").read_text() == old
    again = learn(plan, "--only", "pour_time", "--write", site)
    assert again.exit_code == 2
    assert "pour_time is 14 min here, and the plan was made with 10 min" in " ".join(again.stderr.split())


def test_the_copy_of_the_plan_is_not_written_into(plan: Path) -> None:
    result = learn(plan, "--write", plan / "inputs" / "site.yaml")
    assert result.exit_code == 2
    assert "is the copy that the plan was made with" in " ".join(result.stderr.split())


def test_a_key_that_nothing_is_learnt_of_is_asked_back(plan: Path) -> None:
    result = learn(plan, "--only", "striptime")
    assert (result.exit_code, "Did you mean strip_time?" in result.stderr) == (2, True)


def test_what_is_not_proposed_is_not_written(plan: Path, site: Path) -> None:
    old = site.read_bytes()
    assert "Nothing is to be written." in learn(plan, "--only", "strip_at", "--write", site).output
    assert site.read_bytes() == old


def test_it_fits_a_phone(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    lines = learn(plan).output.splitlines()
    assert [line for line in lines if len(line) > 40 and not line.startswith("blockrun ")] == []


def test_units_are_those_of_the_site(tmp_path: Path, plan: Path) -> None:
    copy = plan / "inputs" / "site.yaml"
    copy.write_text(
        copy.read_text().replace("units: SI", "units: US").replace("left_behind: 4 L", "left_behind: 1 gal")
    )
    shown = learn(plan).output
    assert "site: left_behind 1 gal" in shown
    assert "gal stay behind" in shown
    assert "so: left_behind 1 gal -> 2." in shown


@pytest.mark.parametrize(("file", "said"), [("", "is a folder"), ("nosuch.yaml", "there is no such file")])
def test_a_file_to_write_is_looked_for_even_where_nothing_is_proposed(tmp_path: Path, file: str, said: str) -> None:
    folder = Path(shutil.copytree(ROOT / "tests" / "plans" / "small", tmp_path / "plan"))
    create_journal(folder / FILE)
    result = learn(folder, "--write", file)
    assert (result.exit_code, said in result.stderr) == (2, True)


def test_keys_that_are_none_are_told(plan: Path) -> None:
    result = learn(plan, "--only", " , ")
    assert (result.exit_code, "--only names nothing" in result.stderr) == (2, True)
