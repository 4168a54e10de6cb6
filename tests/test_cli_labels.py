"""`blockrun paper --labels`: what it writes, and how it refuses."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app

ROOT = Path(__file__).parent.parent
SMALL = ROOT / "tests" / "plans" / "small"
SHEET = ROOT / "configs" / "labels.yaml"


def run(*words: object, columns: int = 80) -> Result:
    command = ["paper", str(SMALL), "--labels", *map(str, words)]
    return CliRunner().invoke(app, command, env={"COLUMNS": str(columns)})


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "labels.pdf"


def text_of(pdf: Path) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)
    finally:
        document.close()


def test_labels_of_a_plan_are_printed_and_the_file_named(out: Path) -> None:
    result = run(SHEET, "--out", out)
    assert (result.exit_code, result.stdout) == (0, f"written to {out}\n"), result.stderr
    text = text_of(out)
    assert all(word in text for word in ("MOULD turn 1", "RACK", "STACK"))


def test_what_has_no_room_on_small_labels_is_said_at_forty_columns(out: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "small.yaml"
    text = SHEET.read_text(encoding="utf-8").replace("label_width: 64 mm", "label_width: 48 mm")
    sheet.write_text(text.replace("label_height: 34 mm", "label_height: 20 mm"), encoding="utf-8")
    result = run(sheet, "--out", out, columns=40)
    assert result.exit_code == 0, result.stderr
    first, *said = result.stdout.splitlines()
    assert first == f"written to {out}"
    assert "labels have no room for all there is to say. Left out: " in " ".join(said)
    assert all(len(line) <= 40 for line in said)


def test_labels_are_chosen_by_what_they_are_on_and_by_the_day_of_pouring(out: Path) -> None:
    assert run(SHEET, "--out", out, "--only", "racks", "--from", "2027-04-06").exit_code == 0
    text = text_of(out)
    assert "RACK" in text
    assert "MOULD" not in text
    assert "poured Mon 5 Apr" not in text


def test_equal_plans_give_equal_files(out: Path, tmp_path: Path) -> None:
    run(SHEET, "--out", out)
    run(SHEET, "--out", tmp_path / "again.pdf")
    assert out.read_bytes() == (tmp_path / "again.pdf").read_bytes()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--start", "25"), "--start 25: the sheet has 24 labels"),
        (("--paper", "a4"), "a sheet of labels has its own size"),
        (("--only", "mould"), "there is no sheet mould Did you mean moulds?"),
        (("--from", "2031-01-01"), "there is no label to print"),
    ],
)
def test_what_cannot_be_is_refused_in_words_and_nothing_is_written(
    out: Path, words: tuple[str, ...], said: str
) -> None:
    result = run(SHEET, "--out", out, *words)
    assert result.exit_code == 2
    assert said in " ".join(result.stderr.split())
    assert not list(out.parent.iterdir())


def test_a_label_to_begin_with_is_asked_of_labels_alone(out: Path) -> None:
    result = CliRunner().invoke(app, ["paper", str(SMALL), "--out", str(out), "--start", "5"])
    assert result.exit_code == 2
    assert "Add --labels" in result.stderr


def test_a_sheet_that_does_not_fit_is_shown_at_its_line_on_a_narrow_screen(out: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "l.yaml"
    sheet.write_text(SHEET.read_text(encoding="utf-8").replace("columns: 3 ", "columns: 4 "), encoding="utf-8")
    result = run(sheet, "--out", out, columns=40)
    assert result.exit_code == 2
    assert "l.yaml:5:10:" in "".join(result.stderr.split())
    assert "write columns: 3." in " ".join(result.stderr.split())
    assert not out.exists()


def test_a_file_that_is_there_stays_unless_it_is_to_be_replaced(out: Path) -> None:
    out.write_text("mine", encoding="utf-8")
    assert run(SHEET, "--out", out).exit_code == 2
    assert out.read_text(encoding="utf-8") == "mine"
    assert run(SHEET, "--out", out, "--replace").exit_code == 0
