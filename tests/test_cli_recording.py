"""A person with a phone records what happened, at once or at night, and the journal is looked through and copied."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from blockrun.yard.journal import FILE, open_journal
from blockrun.yard.record.grammar import FORMS
from tests.clock import stands_at

MONDAY, TUESDAY = "2027-04-05 08:24", "2027-04-06 13:00"


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """The yard's clock stands at the end of Wednesday, 21 April."""
    stands_at(monkeypatch, "2027-04-21T18:00:30")


def run(*words: object, typed: str = "") -> Result:
    return CliRunner().invoke(app, [str(word) for word in words], input=typed)


@pytest.fixture
def plan(tmp_path: Path, small_folder: Path) -> Path:
    return Path(shutil.copytree(small_folder, tmp_path / "plan"))


@pytest.fixture
def recorded(plan: Path) -> Path:
    """Batch 1 is poured and one of its moulds stripped."""
    run("record", plan, "poured", 1, "--at", MONDAY, "--who", "Ana")
    run("record", plan, "stripped", "gang-2/1", 1, "broken", "--at", TUESDAY)
    return plan


def entries(plan: Path) -> int:
    with open_journal(plan / FILE) as journal:
        return len(journal)


def test_what_is_typed_is_said_back_and_kept(plan: Path) -> None:
    result = run("record", plan, "poured", "1", "--at", MONDAY, "--foam", "98g/L", "--who", "Ana")
    assert (result.exit_code, result.stderr) == (0, "")
    assert "1: Batch 1 (light) poured into gang-2/01, gang-2/02, tray-1/b01, 5 blocks, foam 98 g/L" in result.output
    assert "by Ana." in result.output
    assert entries(plan) == 1


def test_without_words_all_that_may_be_recorded_is_listed(plan: Path) -> None:
    shown = " ".join(run("record", plan).output.split())
    assert all(form.written in shown for form in FORMS.values())
    assert not (plan / FILE).exists()


def test_it_is_now_unless_told(plan: Path) -> None:
    assert "Wed 21 Apr 18:00" in run("record", plan, "note", "swept").output


def test_cold_nights_are_no_options(plan: Path) -> None:
    assert "Air of Wed 21 Apr: -3 to 8 degC." in run("record", plan, "weather", "-3", "8").output


def test_an_option_that_is_none_is_told(plan: Path) -> None:
    result = run("record", plan, "note", "swept", "--whoo", "Ana")
    assert (result.exit_code, "there is no option --whoo" in result.stderr) == (2, True)


def test_what_is_still_to_come_is_refused(plan: Path) -> None:
    result = run("record", plan, "note", "swept", "--at", "19:00")
    assert result.exit_code == 2
    assert "2027-04-21 19:00 is still to come" in result.stderr


def test_a_sheet_is_recorded_whole(plan: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(f"at,what\n{MONDAY},poured 1\n13:00,stripped gang-2/1\n", encoding="utf-8")
    result = run("record", plan, "--from", sheet, "--on", "2027-04-06")
    assert (result.exit_code, entries(plan)) == (0, 3)
    assert "Recorded already, and counted once" in run("record", plan, "--from", sheet, "--on", "2027-04-06").output
    assert entries(plan) == 3


def test_a_bad_row_is_told_by_row_and_column_and_nothing_is_kept(plan: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(f"at,what\n{MONDAY},poured 1\n{TUESDAY},poured 77\n", encoding="utf-8")
    result = run("record", plan, "--from", sheet)
    assert result.exit_code == 2
    assert f"{sheet}:3:18: what: the plan has no batch 77" in " ".join(result.stderr.split())
    assert not (plan / FILE).exists()


def test_a_day_is_asked_item_by_item(recorded: Path) -> None:
    answers = "\n13:10 9 broken\n13.10\nn\nq\n"
    result = run("record", recorded, "day", "--on", "2027-04-06", typed=answers)
    assert result.exit_code == 0, result.output
    assert "Tue 6 Apr 08:05 sides off tray-1/b01, as planned?" in result.output
    assert "which mark are the 9? gang-2/02 holds full and half" in result.output
    assert "Stripped gang-2/02: whole 1 full, 1 half, Tue 6 Apr 13:10." in " ".join(result.output.split())
    assert entries(recorded) == 6


def test_a_day_with_nothing_open_says_so(plan: Path) -> None:
    said = "Nothing is open of what the plan has until now for Wed 7 Apr.\n"
    assert run("record", plan, "day", "--on", "2027-04-07").output == said


def test_a_day_is_asked_within_the_width(recorded: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    output = run("record", recorded, "day", "--on", "2027-04-06", typed="\nn\n9 broken\nn\nn\n").output
    output += run("record", recorded, "day", "--on", "2027-04-07").output
    assert "Tue 6 Apr 13:00 gang-2/02 stripped, to\n  rack east, as planned?: " in output
    assert max(map(len, output.splitlines())) <= 40


def test_cubes_to_crush_are_told_with_what_is_asked_of_a_day(recorded: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    rows = "batch,cubes,volume_l,set,marked,crush\n1,2,2.06,1,1-1 to 1-2,2027-04-07\n"
    (recorded / "cubes.csv").write_text(rows, encoding="utf-8")
    output = run("record", recorded, "day", "--on", "2027-04-07", typed="q\n").output
    assert f"blockrun record {recorded} test cube 1 LOAD marked WORDS" in " ".join(output.split())
    assert "Nothing is open" not in output


def test_a_whole_journal_is_said_to_be(recorded: Path) -> None:
    result = run("verify", recorded)
    assert (result.exit_code, result.output) == (0, "The journal is whole: 3 entries, each as it was written.\n")


def test_a_damaged_journal_is_told_and_what_can_be_is_saved(recorded: Path, tmp_path: Path) -> None:
    path = recorded / FILE
    path.write_bytes(path.read_bytes().replace(b"Ana", b"Eve"))
    result = run("verify", recorded, "--save", tmp_path / "saved.sqlite")
    assert result.exit_code == 2
    assert "THE JOURNAL IS DAMAGED. 2 entries can be saved." in result.output
    assert "entry 1 of the journal is not what was written" in result.output
    with open_journal(tmp_path / "saved.sqlite") as saved:
        assert len(saved) == 2


def test_a_copy_is_a_journal(recorded: Path, tmp_path: Path) -> None:
    result = run("backup", recorded, "--out", tmp_path / "copy.sqlite")
    assert result.output == f"3 entries copied to {tmp_path / 'copy.sqlite'}\n"
    with open_journal(tmp_path / "copy.sqlite") as copy, open_journal(recorded / FILE) as journal:
        assert copy.rows() == journal.rows()
    assert run("backup", recorded, "--out", tmp_path / "copy.sqlite").exit_code == 2


def test_a_copy_is_named_after_the_moment(recorded: Path) -> None:
    assert run("backup", recorded).exit_code == 0
    assert (recorded / "journal-2027-04-21-180030.sqlite").is_file()


def test_everything_is_handed_out_as_csv_with_where_each_block_is(recorded: Path, tmp_path: Path) -> None:
    result = run("export", recorded, "--out", tmp_path / "csv")
    assert result.output == f"4 tables written to {tmp_path / 'csv'}\n"
    assert {path.name for path in (tmp_path / "csv").iterdir()} == {
        "blocks.csv", "moved.csv", "poured.csv", "stripped.csv",
    }  # fmt: skip
    with (tmp_path / "csv" / "blocks.csv").open(encoding="utf-8", newline="") as file:
        rows = [(row["place"], row["name"], row["mark"], row["count"]) for row in csv.DictReader(file)]
    assert rows == [
        ("mould", "gang-2/02", "full", "1"),
        ("mould", "gang-2/02", "half", "1"),
        ("mould", "tray-1/b01", "thin", "1"),
        ("rack", "east", "full", "1"),
        ("broken", "", "full", "1"),
    ]
    assert run("export", recorded, "--out", tmp_path / "csv").exit_code == 2
    assert run("export", recorded, "--out", tmp_path / "csv", "--replace").exit_code == 0


@pytest.mark.parametrize("gone", ["casts.csv", "inputs/site.yaml"])
def test_a_journal_is_handed_out_of_a_folder_whose_plan_is_broken(recorded: Path, tmp_path: Path, gone: str) -> None:
    (recorded / gone).unlink()
    result = run("export", recorded, "--out", tmp_path / "csv")
    assert (result.exit_code, result.stderr) == (0, "")
    assert "The plan cannot be read, so blocks.csv has batches by the numbers recorded: " in result.output
    with (tmp_path / "csv" / "blocks.csv").open(encoding="utf-8", newline="") as file:
        assert {(row["batch"], row["recorded"]) for row in csv.DictReader(file)} == {("1", "1")}


def test_a_table_of_somebody_else_in_an_old_export_is_never_replaced(recorded: Path, tmp_path: Path) -> None:
    run("export", recorded, "--out", tmp_path / "csv")
    (tmp_path / "csv" / "poured.csv").write_text("when,what\n")
    result = run("export", recorded, "--out", tmp_path / "csv", "--replace")
    assert result.exit_code == 2
    assert "poured.csv: is no table of an old export" in " ".join(result.stderr.split())
    assert (tmp_path / "csv" / "poured.csv").read_text() == "when,what\n"


def test_the_list_of_an_order_makes_no_old_export_of_its_folder(recorded: Path, tmp_path: Path) -> None:
    (tmp_path / "yard").mkdir()
    (tmp_path / "yard" / "blocks.csv").write_text("mark,length_mm,height_mm,thickness_mm,count,mix\n")
    result = run("export", recorded, "--out", tmp_path / "yard", "--replace")
    assert result.exit_code == 2
    assert "its blocks.csv is none of ours, so it will not be replaced" in " ".join(result.stderr.split())
    assert {path.name for path in (tmp_path / "yard").iterdir()} == {"blocks.csv"}


@pytest.fixture
def aired(recorded: Path) -> Path:
    """And the air of the day of its pour was told."""
    run("record", recorded, "weather", 10, 21, "5 Apr", "--at", "6 Apr 07:30")
    return recorded


def test_the_list_of_a_morning_is_that_of_the_moment_told(aired: Path) -> None:
    result = run("ready", aired, "--at", "2027-04-06 12:50")
    assert (result.exit_code, result.stderr) == (0, "")
    assert "Ready Tue 6 Apr 12:50" in result.output
    assert "- now: gang-2/01-02, tray-1/b01, 5 blocks, to rack east" in result.output
    later = " ".join(run("ready", aired).output.split())
    assert "strip the rest only if firm: gang-2/02, tray-1/b01, 3 blocks, to rack east" in later


def test_a_thumb_that_the_command_for_it_kept_puts_a_strip_off(aired: Path) -> None:
    before = run("ready", aired, "--at", "2027-04-06 12:50").output
    assert run("thumb", aired, "gang-2/2", "dents", "--at", "2027-04-06 12:47").exit_code == 0
    after = run("ready", aired, "--at", "2027-04-06 12:50").output
    assert "now: gang-2/01-02" in before
    assert "strip only if firm: gang-2/01, tray-1/b01" in " ".join(after.split())
    assert "press again from Wed 7 Apr 08:00, strip only if firm: gang-2/02" in after


@pytest.mark.parametrize("command", ["ready", "verify", "backup", "export"])
def test_without_a_journal_it_says_what_to_do(plan: Path, command: str) -> None:
    result = run(command, plan)
    assert result.exit_code == 2
    assert "there is no journal here" in " ".join(result.stderr.split())


def test_a_folder_without_a_plan_is_told(tmp_path: Path) -> None:
    result = run("record", tmp_path, "note", "swept")
    assert (result.exit_code, "no plan is saved here" in " ".join(result.stderr.split())) == (2, True)


def test_what_is_said_fits_a_phone(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    shown = [
        run("record", plan),
        run("record", plan, "poured", 1, "--at", MONDAY),
        run("ready", plan),
        run("verify", plan),
    ]
    assert max(len(line) for result in shown for line in result.output.splitlines()) <= 40


def test_the_same_key_sent_again_counts_once(plan: Path) -> None:
    words = ("record", plan, "poured", 1, "--at", MONDAY, "--key", "phone-7")
    assert run(*words).exit_code == 0
    assert "Recorded already, and counted once:" in run(*words).output
    assert entries(plan) == 1


def test_what_a_refusal_says_to_type_can_be_typed_as_it_stands(plan: Path) -> None:
    refused = " ".join(run("record", plan, "stripped", "gang-2/1", "--at", TUESDAY).stderr.split())
    assert refused.endswith(f'If it was poured then: blockrun record {plan} poured 1 --at "Mon 5 Apr 08:24"')
    assert run("record", plan, "poured", 1, "--at", "Mon 5 Apr 08:24").exit_code == 0
