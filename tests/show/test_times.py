"""The command cure: a table that a phone holds, and a picture."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def run(small_folder: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("COLUMNS", "40")

    def cure(*options: str) -> Result:
        return CliRunner().invoke(app, ["cure", str(small_folder / "inputs" / "site.yaml"), *options])

    return cure


def test_the_table_fits_a_phone(run):
    result = run()
    assert result.exit_code == 0, result.output
    assert max(map(len, result.stdout.splitlines())) <= 40
    assert "pour  strip     move  lay" in result.stdout
    assert "pour  sides off strip     move  lay" in result.stdout


def test_the_last_pour_for_a_strip_is_said(run):
    words = " ".join(run("--to", "2027-04-05").stdout.split())
    assert "Poured by" in words
    assert "it is stripped Tue" in words


def test_the_picture_has_a_line_for_each_hour_and_words_for_ears(run, tmp_path: Path):
    file = tmp_path / "cure.svg"
    result = run("--to", "2027-04-06", "--picture", str(file))
    assert result.exit_code == 0, result.output
    root = ET.fromstring(file.read_text(encoding="utf-8"))
    titles = [title.text or "" for title in root.iter(f"{SVG}title")]
    assert titles[0] == "Hand yard: from pour to strip"
    hours = [title for title in titles if title.startswith("poured ")]
    rows = [line for line in run("--to", "2027-04-06").stdout.splitlines() if re.match(r"\d\d:00 ", line)]
    assert len(hours) == len(rows) > 20


def test_nothing_is_drawn_outside_the_page(run, tmp_path: Path):
    file = tmp_path / "cure.svg"
    run("--picture", str(file))
    root = ET.fromstring(file.read_text(encoding="utf-8"))
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    for rect in root.iter(f"{SVG}rect"):
        if "x" in rect.attrib and rect.attrib["width"] != "100%":
            assert float(rect.attrib["x"]) + float(rect.attrib["width"]) <= width
            assert float(rect.attrib.get("y", 0)) + float(rect.attrib["height"]) <= height
    assert all(0 <= float(text.attrib.get("x", 0)) <= width for text in root.iter(f"{SVG}text"))


def test_a_picture_that_is_there_is_replaced_only_when_asked(run, tmp_path: Path):
    file = tmp_path / "cure.svg"
    file.write_text("mine")
    assert run("--picture", str(file)).exit_code == 2
    assert file.read_text() == "mine"
    assert run("--picture", str(file), "--replace").exit_code == 0
    assert file.read_text() != "mine"


def test_a_typical_year_is_named_and_a_wrong_day_refused(run):
    assert run("--from", "2027-13-01").exit_code == 2
    assert run("--from", "2026-01-01").exit_code == 2
