"""Copies of the whole journal, and everything in it as tables."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from blockrun.errors import JournalError
from blockrun.yard.journal import Entry, open_journal
from blockrun.yard.journal.copies import as_csv
from blockrun.yard.journal.events import Blocks, Counted, Delivered, Stripped
from blockrun.yard.journal.verify import verify
from tests.yard.journal.made import entry, note, poured, undone

STRIPPED = entry(4, Stripped(mould="gang-4/01", whole=(Blocks(mark="full", mix="light", count=3),)))


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(text.splitlines()))


def test_a_copy_is_a_journal_of_its_own(path: Path, tmp_path: Path) -> None:
    with open_journal(path) as journal:
        journal.append([entry(1), note(2)])
        journal.backup(tmp_path / "copy.sqlite")
        journal.append([entry(3)])
    with open_journal(tmp_path / "copy.sqlite") as copy:
        assert copy.entries() == [entry(1), note(2)]
        assert copy.append([STRIPPED]) == 1
    assert verify(tmp_path / "copy.sqlite").faults == ()


def test_a_copy_can_be_made_while_another_writes(path: Path, tmp_path: Path) -> None:
    with open_journal(path) as writing, open_journal(path, read_only=True) as reading:
        writing.append([entry(1)])
        writing._database.execute("BEGIN IMMEDIATE")
        reading.backup(tmp_path / "copy.sqlite")
        writing._database.execute("ROLLBACK")
    assert verify(tmp_path / "copy.sqlite").entries == 1


def test_nothing_is_written_over_by_a_copy(path: Path, tmp_path: Path) -> None:
    (tmp_path / "copy.sqlite").write_text("dear", encoding="utf-8")
    with open_journal(path) as journal, pytest.raises(JournalError, match="exists already"):
        journal.backup(tmp_path / "copy.sqlite")
    assert (tmp_path / "copy.sqlite").read_text(encoding="utf-8") == "dear"


def test_a_full_disk_leaves_no_half_copy(path: Path, tmp_path: Path, full_disk) -> None:  # type: ignore[no-untyped-def]
    with open_journal(path) as journal:
        journal.append([note(number, "x" * 1000) for number in range(20)])
        with full_disk(8000), pytest.raises(JournalError, match="the disk"):
            journal.backup(tmp_path / "copy.sqlite")
    assert not [file for file in tmp_path.iterdir() if "copy" in file.name]


def test_each_kind_has_a_table_by_when_things_happened(path: Path) -> None:
    told = [note(3, "later"), note(1, "first"), STRIPPED, entry(2)]
    with open_journal(path) as journal:
        journal.append(told)
        tables = as_csv(journal.entries())
    assert list(tables) == ["poured.csv", "stripped.csv", "note.csv"]
    assert [row["words"] for row in rows(tables["note.csv"])] == ["first", "later"]
    (strip,) = rows(tables["stripped.csv"])
    assert (strip["mould"], strip["happened"], strip["number"]) == ("gang-4/01", "2027-04-05T08:04", "3")
    assert json.loads(strip["whole"]) == [{"mark": "full", "mix": "light", "count": 3}]
    (pour,) = rows(tables["poured.csv"])
    assert (pour["foam_g_l"], pour["mix_degc"], pour["who"]) == ("95.5", "", "Ana")


def test_what_was_undone_stays_in_the_tables_and_is_said_not_to_count() -> None:
    tables = as_csv([note(1, "wrong"), note(2, "right"), undone(3, "k1")])
    assert [(row["words"], row["counts"]) for row in rows(tables["note.csv"])] == [
        ("wrong", "false"),
        ("right", "true"),
    ]
    assert rows(tables["undone.csv"])[0]["undone_key"] == "k1"


def test_an_amount_has_its_unit_beside_it() -> None:
    came = [Delivered(material="cement", amount=12, lot="K2"), Delivered(material="foaming agent", amount=8.1)]
    tables = as_csv([*map(entry, (3, 4), came), entry(5, Counted(material="sand", amount=40))])
    assert [(row["amount"], row["unit"]) for row in rows(tables["delivered.csv"])] == [("12.0", "bags"), ("8.1", "L")]
    assert [(row["amount"], row["unit"]) for row in rows(tables["counted.csv"])] == [("40.0", "kg")]


def test_what_was_typed_in_another_unit_has_no_more_figures_for_it() -> None:
    told = entry(2, poured(3).model_copy(update={"foam_g_l": 94.99999999999999}))
    assert rows(as_csv([told])["poured.csv"])[0]["foam_g_l"] == "95.0"


def test_no_entries_are_no_tables() -> None:
    none: list[Entry] = []
    assert as_csv(none) == {}
