"""Files that were torn, cut off or scribbled on: said to be so, and saved as far as they can be."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.errors import JournalError
from blockrun.show.verdict import saved_said
from blockrun.yard.journal import FILE, create_journal, open_journal
from blockrun.yard.journal.entry import digest_of
from blockrun.yard.journal.events import Note
from blockrun.yard.journal.faults import DamagedJournalError
from blockrun.yard.journal.odd import odd_said
from blockrun.yard.journal.pages import rows_in
from blockrun.yard.journal.salvage import readable, salvage
from blockrun.yard.journal.verify import verify
from tests.yard.journal.made import entry, note, undone

PAGE = 4096
MANY = 400


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A journal of many entries, two of them longer than a page."""
    path = tmp_path_factory.mktemp("journal") / FILE
    create_journal(path)
    with open_journal(path) as journal:
        journal.append([entry(number) for number in range(1, MANY - 1)])
        journal.append([entry(MANY - 1, Note(words="ü" * 2000, remark="x" * 2000, who="é" * 2000)), note(MANY)])
    return path


def damaged(whole: Path, folder: Path, content: bytes) -> Path:
    path = folder / "damaged.sqlite"
    path.write_bytes(content)
    return path


def without_guard(path: Path, statement: str) -> None:
    """Change a journal as somebody might who takes its guards off."""
    with closing(sqlite3.connect(path, isolation_level=None)) as database:
        guards = database.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            database.execute(f"DROP TRIGGER {name}")
        database.execute(statement)
        for _, sql in guards:
            database.execute(sql)


def test_a_whole_journal_is_said_to_be_whole(whole: Path) -> None:
    verdict = verify(whole)
    assert (verdict.entries, verdict.faults, verdict.notes) == (MANY, (), ())


def test_bare_pages_give_all_that_the_database_gives(whole: Path) -> None:
    with open_journal(whole, read_only=True) as journal:
        assert list(readable(whole).entries) == journal.entries()
    assert readable(whole).missing == ()


@pytest.mark.parametrize("share", [0.3, 0.6, 0.95])
def test_a_journal_cut_off_is_told_and_what_is_left_is_saved(whole: Path, tmp_path: Path, share: float) -> None:
    content = whole.read_bytes()
    path = damaged(whole, tmp_path, content[: int(len(content) * share)])
    with pytest.raises(DamagedJournalError, match="is damaged"):
        open_journal(path)
    verdict = verify(path)
    assert verdict.faults
    saved = salvage(path, tmp_path / "saved.sqlite")
    assert verdict.entries == len(saved.entries)
    assert len(saved.entries) + len(saved.missing) >= MANY * share * 0.5
    with open_journal(tmp_path / "saved.sqlite") as journal:
        assert journal.entries() == list(saved.entries)
    assert verify(tmp_path / "saved.sqlite").faults == ()
    assert path.read_bytes() == content[: int(len(content) * share)]


def test_a_journal_cut_off_to_nothing_is_not_taken_for_a_new_one(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"")
    with pytest.raises(DamagedJournalError, match="all that was in it has been cut off"):
        open_journal(tmp_path / FILE)
    assert verify(tmp_path / FILE).faults == ("the journal is empty: all that was in it has been cut off",)
    with pytest.raises(JournalError, match="nothing of the journal can be read"):
        salvage(tmp_path / FILE, tmp_path / "saved.sqlite")
    assert not (tmp_path / "saved.sqlite").exists()


def test_a_page_torn_out_of_the_middle_costs_the_entries_on_it_alone(whole: Path, tmp_path: Path) -> None:
    content = bytearray(whole.read_bytes())
    leaves = [at for at in range(PAGE, len(content), PAGE) if content[at] == 13]
    torn = leaves[len(leaves) // 2]
    content[torn : torn + PAGE] = bytes(PAGE)
    path = damaged(whole, tmp_path, bytes(content))
    assert verify(path).faults
    saved = salvage(path, tmp_path / "saved.sqlite")
    assert 0 < len(saved.missing) < 40
    assert len(saved.entries) == MANY - len(saved.missing)
    assert list(saved.missing) == list(range(saved.missing[0], saved.missing[-1] + 1))


def test_a_journal_without_its_beginning_is_saved_from_the_rest(whole: Path, tmp_path: Path) -> None:
    content = whole.read_bytes()
    path = damaged(whole, tmp_path, bytes(PAGE) + content[PAGE:])
    assert verify(path).faults == ("the journal is no journal, or is damaged from its beginning",)
    assert len(readable(path).entries) == MANY


def test_a_letter_changed_on_the_disk_is_found_by_the_number_of_its_entry(whole: Path, tmp_path: Path) -> None:
    content = whole.read_bytes()
    assert content.count(b'"batch":201,') == 1
    path = damaged(whole, tmp_path, content.replace(b'"batch":201,', b'"batch":209,'))
    assert verify(path).faults == ("entry 200 of the journal is not what was written",)
    with open_journal(path) as journal, pytest.raises(DamagedJournalError, match="entry 200"):
        journal.entries()
    assert readable(path).missing == (200,)


def test_a_damaged_row_says_where_it_is_and_how_to_look_through_it(whole: Path, tmp_path: Path) -> None:
    path = damaged(whole, tmp_path, whole.read_bytes().replace(b'"batch":201,', b'"batch":209,'))
    with open_journal(path) as journal, pytest.raises(DamagedJournalError) as fault:
        journal.entries()
    assert (fault.value.file, fault.value.todo) == (str(path), f"See what can be saved: blockrun verify {tmp_path}")


def test_a_file_that_is_no_journal_says_which_folder_to_look_through(whole: Path, tmp_path: Path) -> None:
    path = damaged(whole, tmp_path, bytes(PAGE) + whole.read_bytes()[PAGE:])
    with pytest.raises(DamagedJournalError, match="no journal") as fault:
        open_journal(path)
    assert fault.value.todo == f"See what can be saved: blockrun verify {tmp_path}"


def test_what_the_database_finds_is_told_in_words_its_own_behind_them() -> None:
    lines = (
        "*** in database main ***\nFragmentation of 399 bytes reported as 0 on page 3",
        *(f"row {number} missing from index sqlite_autoindex_entry_1" for number in range(1, 10)),
    )
    assert [*odd_said(lines)] == [
        "the file was changed or torn on page 3 (in the words of the database: "
        "Fragmentation of 399 bytes reported as 0 on page 3)",
        "the list by which entries are looked up does not fit them, and is made anew with them (in the words of the "
        "database: row 1 missing from index sqlite_autoindex_entry_1; and 8 more like it)",
    ]
    assert [*odd_said(())] == []


@pytest.mark.parametrize(
    ("missing", "words"),
    [((), ""), ((200,), "; entry 200 could not be read"),
     ((1, 7, 8, 9), "; entries 1 and 7 to 9 could not be read")],
)  # fmt: skip
def test_entries_that_could_not_be_saved_are_named(missing: tuple[int, ...], words: str) -> None:
    assert saved_said(12, missing, Path("saved.sqlite")) == f"12 entries saved in saved.sqlite{words}"


def test_an_entry_taken_out_by_hand_is_missed(whole: Path, tmp_path: Path) -> None:
    path = damaged(whole, tmp_path, whole.read_bytes())
    without_guard(path, "DELETE FROM entry WHERE number IN (1, 7, 8, 9)")
    assert verify(path).faults == ("entry 1 is missing", "entries 7 to 9 are missing")


def of_a_newer_kind(path: Path, number: int) -> None:
    """Have an entry, undamaged, be of a kind that nobody knows here."""
    with open_journal(path, read_only=True) as journal:
        row = next(row for row in journal.rows() if row[0] == number)
    told = json.dumps(json.loads(row[4]) | {"kind": "hologram"})
    without_guard(
        path, f"UPDATE entry SET event = '{told}', digest = '{digest_of(*row[:4], told)}' WHERE number = {number}"
    )


@pytest.mark.parametrize("number", [200, MANY])
def test_an_entry_of_a_kind_unknown_here_costs_itself_alone(whole: Path, tmp_path: Path, number: int) -> None:
    path = damaged(whole, tmp_path, whole.read_bytes())
    of_a_newer_kind(path, number)
    with pytest.raises(JournalError, match=f"entry {number} of the journal cannot be read: no hologram is known here"):
        verify(path)
    saved = salvage(path, tmp_path / "saved.sqlite")
    assert (len(saved.entries), saved.missing) == (MANY - 1, (number,))


def test_a_damaged_journal_with_such_an_entry_is_judged_and_saved(whole: Path, tmp_path: Path) -> None:
    path = damaged(whole, tmp_path, whole.read_bytes())
    of_a_newer_kind(path, 200)
    without_guard(path, "DELETE FROM entry WHERE number = 7")
    gap, newer = verify(path).faults
    assert (gap, newer.partition(":")[0]) == ("entry 7 is missing", "entry 200 of the journal cannot be read")
    assert readable(path).missing == (7, 200)


def test_an_undoing_of_what_nobody_recorded_is_a_note_and_no_fault(path: Path) -> None:
    with open_journal(path) as journal:
        journal.append([note(1), undone(2, "k9"), undone(3, "k1")])
    verdict = verify(path)
    assert (verdict.faults, verdict.notes) == ((), ("entry 2 undoes one that is not there: k9",))


def test_where_there_is_no_file_there_is_nothing_to_verify(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match="there is no journal here"):
        verify(tmp_path / FILE)
    with pytest.raises(JournalError, match="cannot be read: No such file"):
        readable(tmp_path / FILE)


def test_a_newer_journal_is_not_called_damaged(tmp_path: Path) -> None:
    from tests.yard.journal.test_store import NEWER

    create_journal(tmp_path / FILE, NEWER)
    with pytest.raises(JournalError, match="is of version 2"):
        verify(tmp_path / FILE)


def test_what_is_saved_is_never_written_over_something(whole: Path, tmp_path: Path) -> None:
    (tmp_path / "there.sqlite").write_text("dear", encoding="utf-8")
    with pytest.raises(JournalError, match="a journal is there already"):
        salvage(whole, tmp_path / "there.sqlite")
    assert (tmp_path / "there.sqlite").read_text(encoding="utf-8") == "dear"


@settings(max_examples=60)
@given(at=st.integers(0, 40 * PAGE), scribble=st.binary(min_size=1, max_size=300), cut=st.integers(0, 60 * PAGE))
def test_whatever_is_scribbled_on_it_nothing_is_saved_that_was_not_written(
    whole: Path, tmp_path_factory: pytest.TempPathFactory, at: int, scribble: bytes, cut: int
) -> None:
    content = bytearray(whole.read_bytes())
    content[at : at + len(scribble)] = scribble
    path = tmp_path_factory.mktemp("damaged") / FILE
    path.write_bytes(bytes(content[: max(1, cut)]))
    with open_journal(whole, read_only=True) as journal:
        written = {one.number: one for one in journal.entries()}
    for saved in readable(path).entries:
        assert written[saved.number] == saved


@given(st.binary(max_size=3 * PAGE))
def test_bytes_that_are_no_pages_give_no_error(content: bytes) -> None:
    for _ in rows_in(content):
        pass
    assert list(rows_in(b"")) == []
