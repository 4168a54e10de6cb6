"""`blockrun paper`: what it writes, and how it refuses."""

from __future__ import annotations

import errno
import json
import shutil
from pathlib import Path

import pypdfium2
import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from blockrun.show.paper.sheets import NAMES
from blockrun.site import digest_site, load_site

PLANS = Path(__file__).parent / "plans"
SMALL = PLANS / "small"


def run(*words: object) -> Result:
    return CliRunner().invoke(app, ["paper", *map(str, words)], env={"COLUMNS": "80"})


def said(result: Result) -> str:
    return " ".join(result.stderr.split())


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "wall.pdf"


def test_a_plan_is_printed_and_the_file_named(out: Path) -> None:
    result = run(SMALL, "--out", out)
    assert (result.exit_code, result.stdout) == (0, f"written to {out}\n"), result.stderr
    document = pypdfium2.PdfDocument(out)
    assert len(document) > 4
    assert document.get_metadata_value("Title").count(":") == 1
    document.close()


def test_every_page_and_card_says_which_plan_it_is_of(tmp_path: Path, out: Path) -> None:
    plan = shutil.copytree(SMALL, tmp_path / "plan")
    (plan / "run.json").write_text('{"when": "2027-03-01T18:30:00+00:00"}', encoding="utf-8")
    assert run(plan, "--out", out).exit_code == 0
    document = pypdfium2.PdfDocument(out)
    words = [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]
    document.close()
    assert all("plan 1 of Mon 1 Mar 2027, 18:30" in page for page in words)


def size_of(pdf: Path) -> tuple[int, int]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        width, height = document[0].get_size()
    finally:
        document.close()
    return round(width), round(height)


def test_paper_is_a4_unless_told_or_the_site_prints_in_us(out: Path) -> None:
    run(SMALL, "--out", out, "--only", "cautions")
    assert size_of(out) == (595, 842)
    run(SMALL, "--out", out, "--only", "cautions", "--paper", "letter", "--replace")
    assert size_of(out) == (612, 792)


def test_a_us_site_prints_on_letter(tmp_path: Path, out: Path) -> None:
    plan = shutil.copytree(SMALL, tmp_path / "plan")
    site = plan / "inputs" / "site.yaml"
    text = site.read_text(encoding="utf-8")
    site.write_text(f"units: US\nbuckets: {{foam: 10 L}}\n{text}".replace("\nunits: SI", ""), encoding="utf-8")
    facts = json.loads((plan / "plan.json").read_text(encoding="utf-8"))
    facts["inputs"]["site"] = digest_site(load_site(site))
    (plan / "plan.json").write_text(json.dumps(facts), encoding="utf-8")
    result = run(plan, "--out", out, "--only", "cautions")
    assert result.exit_code == 0, result.stderr
    assert size_of(out) == (612, 792)


def test_days_and_sheets_are_chosen(out: Path) -> None:
    assert run(SMALL, "--out", out, "--only", "days", "--from", "2027-04-05", "--to", "2027-04-05").exit_code == 0
    document = pypdfium2.PdfDocument(out)
    assert "Mon 5 Apr 2027" in " ".join(document[0].get_textpage().get_text_bounded().split())
    document.close()


def test_help_names_every_sheet() -> None:
    shown = " ".join(run("--help").stdout.split())
    assert all(name in shown for name in NAMES)


def test_equal_plans_give_equal_files(out: Path, tmp_path: Path) -> None:
    run(SMALL, "--out", out)
    run(SMALL, "--out", tmp_path / "again.pdf")
    assert out.read_bytes() == (tmp_path / "again.pdf").read_bytes()


@pytest.mark.parametrize(
    ("words", "what"),
    [
        (["--only", "dayz"], "there is no sheet dayz Did you mean days?"),
        (["--from", "2027-99-01"], "--from 2027-99-01: there is no such day"),
        (["--from", "2031-01-01"], "nothing is planned from 2031-01-01 on"),
        (["--from", "2027-04-09", "--to", "2027-04-06"], "--to 2027-04-06 comes before --from 2027-04-09"),
    ],
)
def test_what_is_mistyped_is_told_and_nothing_written(out: Path, words: list[str], what: str) -> None:
    result = run(SMALL, "--out", out, *words)
    assert (result.exit_code, what in said(result)) == (2, True), said(result)
    assert not out.exists()


def test_a_file_that_is_there_is_kept_unless_it_may_be_replaced(out: Path) -> None:
    out.write_text("notes")
    result = run(SMALL, "--out", out)
    assert (result.exit_code, "exists already" in said(result)) == (2, True)
    assert out.read_text() == "notes"
    assert run(SMALL, "--out", out, "--replace").exit_code == 0
    assert out.read_bytes().startswith(b"%PDF")


def test_a_folder_without_a_plan_is_told(tmp_path: Path, out: Path) -> None:
    result = run(tmp_path, "--out", out)
    assert result.exit_code == 2
    assert "Make one with: blockrun plan SITE ORDER --out DIR" in said(result)
    assert not out.exists()


def test_a_plan_of_a_later_version_is_told(tmp_path: Path, out: Path) -> None:
    plan = shutil.copytree(SMALL, tmp_path / "plan")
    facts = json.loads((plan / "plan.json").read_text(encoding="utf-8"))
    (plan / "plan.json").write_text(json.dumps({**facts, "format": 99}), encoding="utf-8")
    result = run(plan, "--out", out)
    assert result.exit_code == 2
    assert "plan.json" in result.stderr
    assert not out.exists()


def test_a_plan_that_fails_its_audit_is_not_printed(tmp_path: Path, out: Path) -> None:
    plan = shutil.copytree(SMALL, tmp_path / "plan")
    casts = plan / "casts.csv"
    casts.write_text(casts.read_text(encoding="utf-8").replace(",east,", ",west,"), encoding="utf-8")
    result = run(plan, "--out", out)
    assert result.exit_code == 2
    assert "fails its audit" in said(result)
    assert "rack west holds" in said(result)
    assert "See all that is wrong: blockrun audit" in said(result)
    assert not out.exists()


def test_a_full_disk_leaves_no_half_file(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, content: bytes) -> int:
        with self.open("wb") as file:
            file.write(content[:100])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    result = run(SMALL, "--out", out)
    assert (result.exit_code, "cannot be written: No space left on device" in said(result)) == (2, True)
    assert list(out.parent.iterdir()) == []


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    result = run(SMALL, "--out", tmp_path / "file" / "wall.pdf")
    assert result.exit_code == 2
    assert "cannot be written" in said(result)
