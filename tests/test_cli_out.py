"""Where commands write one file: a folder that is not there and a name of another kind are refused in words."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app

Monkey = pytest.MonkeyPatch
SMALL = Path(__file__).parent / "plans" / "small"
WRITERS = {"paper": ".pdf", "report": ".html", "calendar": ".ics", "workbook": ".xlsx", "materials": ".csv"}


def run(command: str, *words: object) -> Result:
    return CliRunner().invoke(app, [command, str(SMALL), *map(str, words)], env={"COLUMNS": "200"})


@pytest.mark.parametrize(("command", "ending"), WRITERS.items())
def test_no_folder_is_made_that_nobody_asked_for(command: str, ending: str, tmp_path: Path) -> None:
    result = run(command, "--out", tmp_path / "nodir" / f"a{ending}")
    assert result.exit_code == 2
    assert f"{tmp_path / 'nodir'}: there is no such folder" in result.stderr
    assert "Make it first" in result.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("command", ["paper", "report", "calendar", "workbook"])
def test_a_name_of_another_kind_of_file_is_refused_with_the_right_one(command: str, tmp_path: Path) -> None:
    result = run(command, "--out", tmp_path / "a.txt")
    assert result.exit_code == 2
    assert "a.txt is named as something else" in result.stderr
    assert f"Write --out {tmp_path / 'a'}{WRITERS[command]}" in result.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("folder", ["", ".", "..", "/", "here"])
@pytest.mark.parametrize("command", ["paper", "report", "calendar", "workbook"])
def test_a_folder_in_place_of_a_file_is_told(command: str, folder: str, tmp_path: Path, monkeypatch: Monkey) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "here").mkdir()
    result = run(command, "--out", folder)
    assert result.exit_code == 2
    assert "and a folder is named" in result.stderr
    assert f"Write --out {Path(folder) / 'plan'}{WRITERS[command]}" in result.stderr


@pytest.mark.parametrize("folder", ["", ".", "..", "/"])
@pytest.mark.parametrize("command", ["cure", "chart"])
def test_a_folder_in_place_of_a_picture_is_told(command: str, folder: str) -> None:
    result = CliRunner().invoke(app, [command, str(SMALL / "inputs" / "site.yaml"), "--picture", folder])
    assert result.exit_code == 2
    assert f"Write --picture {Path(folder) / 'picture.svg'}" in result.stderr


def test_labels_are_written_as_pdf_too(tmp_path: Path) -> None:
    sheet = Path(__file__).parent.parent / "configs" / "labels.yaml"
    result = run("paper", "--labels", sheet, "--out", tmp_path / "a.png")
    assert (result.exit_code, "a.png is named as something else" in result.stderr) == (2, True)


def test_sizes_of_paper_are_read_in_any_letters(tmp_path: Path) -> None:
    result = run("paper", "--out", tmp_path / "a.pdf", "--only", "cautions", "--paper", "A4")
    assert result.exit_code == 0, result.stderr


def test_pages_that_a_plan_has_none_of_are_told_as_that(tmp_path: Path) -> None:
    result = run("paper", "--out", tmp_path / "a.pdf", "--only", "saws,domes")
    assert result.exit_code == 2
    assert "this plan has no such pages" in result.stderr
    assert "other days" not in result.stderr


def test_no_file_of_a_plan_is_replaced_by_another(tmp_path: Path) -> None:
    plan = Path(shutil.copytree(SMALL, tmp_path / "plan"))
    for name in ("casts.csv", "inputs/wall.csv"):
        before = (plan / name).read_bytes()
        result = run("materials", "--out", plan / name, "--replace")
        assert (result.exit_code, "belongs to the plan saved here" in result.stderr) == (2, True)
        assert (plan / name).read_bytes() == before
    assert run("materials", "--out", plan / "need.csv", "--replace").exit_code == 0


def test_pages_that_are_named_with_nothing_are_told(tmp_path: Path) -> None:
    result = run("paper", "--out", tmp_path / "a.pdf", "--only", "")
    assert (result.exit_code, "--only names nothing" in result.stderr) == (2, True)
    assert not list(tmp_path.iterdir())
