"""``blockrun report``: what it writes, what it refuses in words, and that nothing half is left."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "200")


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "report.html"


@pytest.fixture
def plan(small_folder: Path, tmp_path: Path) -> Path:
    """A copy that may be spoilt."""
    return shutil.copytree(small_folder, tmp_path / "plan")


def report(*words: object) -> Result:
    return CliRunner().invoke(app, ["report", *map(str, words)])


def refused(result: Result, out: Path) -> str:
    """What is said where nothing is written."""
    assert result.exit_code == 2
    assert [path.name for path in out.parent.iterdir() if "html" in path.name] == []
    return result.stderr


def test_a_page_is_written_and_said(plan: Path, out: Path) -> None:
    result = report(plan, "--out", out)
    assert (result.exit_code, result.stdout) == (0, f"written to {out}\n")
    assert out.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert 'class="solid"' not in out.read_text(encoding="utf-8")


def test_a_page_that_is_there_is_kept_unless_told(plan: Path, out: Path) -> None:
    out.write_text("mine", encoding="utf-8")
    result = report(plan, "--out", out)
    assert result.exit_code == 2
    assert "exists already" in result.stderr
    assert out.read_text(encoding="utf-8") == "mine"
    assert report(plan, "--out", out, "--replace").exit_code == 0
    assert out.read_text(encoding="utf-8") != "mine"


def test_a_page_by_another_name_is_refused(plan: Path, out: Path) -> None:
    said = refused(report(plan, "--out", out.with_suffix(".pdf")), out)
    assert "report.pdf is named as something else" in said
    assert str(out) in said


def test_a_folder_without_a_plan_is_told(out: Path, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert "no plan is saved here" in refused(report(tmp_path / "empty", "--out", out), out)
    assert "there is no such folder" in refused(report(tmp_path / "none", "--out", out), out)


def test_a_plan_of_a_newer_version_is_told(plan: Path, out: Path) -> None:
    facts = json.loads((plan / "plan.json").read_text(encoding="utf-8"))
    (plan / "plan.json").write_text(json.dumps(facts | {"format": 9, "blockrun": "7.0"}), encoding="utf-8")
    assert "this plan was saved by blockrun 7.0" in refused(report(plan, "--out", out), out)


def test_a_plan_that_fails_its_audit_is_told(plan: Path, out: Path) -> None:
    casts = (plan / "casts.csv").read_text(encoding="utf-8")
    (plan / "casts.csv").write_text(casts.replace("2027-04-13T13:00", "2027-04-13T13:01"), encoding="utf-8")
    said = refused(report(plan, "--out", out), out)
    assert "this plan fails its audit, and nothing is made of it" in said
    assert f"blockrun audit {plan}" in said


def test_solids_come_with_an_option(out: Path) -> None:
    drawn = Path(__file__).parents[2] / "plans" / "drawn"
    assert report(drawn, "--out", out, "--3d").exit_code == 0
    assert 'class="solid"' in out.read_text(encoding="utf-8")


def test_where_nothing_can_be_turned_about_the_option_says_so(plan: Path, out: Path) -> None:
    result = report(plan, "--out", out, "--3d")
    assert result.exit_code == 0
    assert "Nothing to turn about: this order has no dome and no building" in result.stdout
