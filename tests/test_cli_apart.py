"""What the journal knows of a batch outside its card reaches all that is printed or handed out of its plan."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook
from typer.testing import CliRunner

from blockrun.cli import app
from tests.clock import stands_at

SET_APART = "3 full, 1 half and 1 thin of batch 1, outside its card"


@pytest.fixture
def light(tmp_path: Path, small_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A plan of which batch 1 was poured far too light."""
    monkeypatch.setenv("COLUMNS", "100")
    stands_at(monkeypatch, "2027-04-21T18:00:30")
    plan = Path(shutil.copytree(small_folder, tmp_path / "plan"))
    run("record", plan, "poured", 1, "--weight", "730kg/m3", "--at", "2027-04-05 08:24")
    return plan


def run(*words: object) -> str:
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert result.exit_code == 0, result.output
    return " ".join(result.output.replace("\u00a0", " ").split())


def test_the_days(light: Path) -> None:
    assert f"DO NOT LAY {SET_APART}" in run("days", light)
    run("record", light, "passed", 1, "the scales were wet", "--at", "2027-04-06 09:00")
    assert "DO NOT LAY" not in run("days", light)


def test_the_calendar(light: Path, tmp_path: Path) -> None:
    run("calendar", light, "--out", tmp_path / "c.ics")
    assert "SUMMARY:DO NOT LAY 5 blocks of batch 1" in (tmp_path / "c.ics").read_text(encoding="utf-8")


def test_the_report(light: Path, tmp_path: Path) -> None:
    run("report", light, "--out", tmp_path / "r.html")
    assert f"DO NOT LAY {SET_APART}" in (tmp_path / "r.html").read_text(encoding="utf-8").replace("\u00a0", " ")


def test_the_workbook(light: Path, tmp_path: Path) -> None:
    run("workbook", light, "--out", tmp_path / "w.xlsx")
    front = CalamineWorkbook.from_path(tmp_path / "w.xlsx").get_sheet_by_index(0).to_python()
    assert any(row[0] == "DO NOT LAY" and str(row[1]).startswith(SET_APART) for row in front)


@pytest.mark.parametrize("words", [("--only", "days"), ("--labels", "configs/labels.yaml", "--only", "racks")])
def test_the_paper_and_the_labels(light: Path, tmp_path: Path, words: tuple[str, ...]) -> None:
    run("paper", light, "--out", tmp_path / "p.pdf", *words)
    from tests.show.paper.read import read_back

    said = " ".join(page.words for page in read_back((tmp_path / "p.pdf").read_bytes()))
    assert "DO NOT LAY" in said
