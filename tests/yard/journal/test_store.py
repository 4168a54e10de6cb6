"""The file of the journal: what goes in comes out, nothing is changed, and what goes wrong is told."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from blockrun.errors import JournalError
from blockrun.yard.journal import FILE, Entry, Journal, create_journal, open_journal, open_or_create
from blockrun.yard.journal.events import Note
from blockrun.yard.journal.faults import DamagedJournalError
from blockrun.yard.journal.schema import APPLICATION, FIRST, NEVER_CHANGED, STEPS
from blockrun.yard.journal.verify import verify
from tests.yard.journal.made import Writers, entry, note, poured

FullDisk = Callable[[int], AbstractContextManager[None]]


def keys(path: Path) -> list[str]:
    with open_journal(path) as journal:
        return [one.key for one in journal.entries()]


# what goes in


def test_entries_come_back_as_they_were_in_the_order_they_came(journal: Journal) -> None:
    told = [entry(5), note(2, "Größe, \u2019 and\na second line"), entry(9)]
    assert journal.append(told) == 3
    assert journal.entries() == told
    assert [one.number for one in journal.entries()] == [1, 2, 3]
    assert len(journal) == 3


def test_the_same_entry_sent_twice_counts_once(journal: Journal) -> None:
    assert journal.append([entry(1), entry(2)]) == 2
    later = replace(entry(2), written=datetime(2027, 5, 1, tzinfo=UTC))
    assert journal.append([entry(1), later, entry(3), entry(3)]) == 1
    assert journal.entries() == [entry(1), entry(2), entry(3)]


@pytest.mark.parametrize("other", [note(1, "hail"), entry(1, minutes=7)])
def test_a_key_for_something_else_is_refused_and_nothing_is_added(journal: Journal, other: Entry) -> None:
    journal.append([entry(1)])
    with pytest.raises(JournalError, match="the key k1 is there already, for something else"):
        journal.append([entry(2), other])
    assert journal.entries() == [entry(1)]


def test_all_are_added_or_none(journal: Journal) -> None:
    def some() -> Iterator[Entry]:
        yield entry(1)
        raise RuntimeError("the sheet is torn")

    with pytest.raises(RuntimeError):
        journal.append(some())
    assert len(journal) == 0
    assert journal.append([entry(2)]) == 1


def test_a_clock_that_was_set_back_changes_no_order(path: Path) -> None:
    late = replace(entry(2), written=entry(1).written - timedelta(hours=3))
    with open_journal(path) as journal:
        journal.append([entry(1)])
        journal.append([late])
        assert journal.entries() == [entry(1), late]
    assert verify(path).faults == ()
    assert "between entries 1 and 2 a clock was set back" in verify(path).notes[0]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"key": ""}, "is no key"),
        ({"key": "x" * 201}, "is no key"),
        ({"key": "a\nb"}, "is no key"),
        ({"happened": datetime(2027, 4, 5, 8, 0, 30)}, "is no time of the yard"),  # noqa: DTZ001
        ({"happened": datetime(2027, 4, 5, 8, tzinfo=UTC)}, "is no time of the yard"),
        ({"written": datetime(2027, 4, 5, 8)}, "by which clock"),  # noqa: DTZ001
    ],
)
def test_what_could_not_be_read_back_is_no_entry(changed: dict[str, object], said: str) -> None:
    with pytest.raises(JournalError, match=said):
        replace(entry(1), **changed)  # type: ignore[arg-type]


# what stays


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET happened = '2027-01-01T00:00'",
        "DELETE FROM entry",
        "DELETE FROM entry WHERE number = 1",
        "INSERT OR REPLACE INTO entry SELECT number, key, happened, written, 'other', digest FROM entry",
    ],
)
def test_nothing_in_it_can_be_changed_or_erased(journal: Journal, statement: str) -> None:
    journal.append([entry(1)])
    with pytest.raises(sqlite3.IntegrityError, match=NEVER_CHANGED):
        journal._database.execute(statement)
    assert journal.entries() == [entry(1)]


def test_a_column_holds_what_it_is_for(journal: Journal) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="cannot store BLOB value in TEXT column"):
        journal._database.execute("INSERT INTO entry VALUES (1, x'00', 'h', 'w', 'e', 'd')")


def test_it_is_kept_as_the_reliability_of_it_asks(journal: Journal) -> None:
    def said(name: str) -> object:
        return journal._database.execute(f"PRAGMA {name}").fetchone()[0]

    assert [said(name) for name in ("journal_mode", "synchronous", "busy_timeout")] == ["truncate", 2, 10000]


# the file


def test_a_journal_is_made_once(path: Path) -> None:
    with open_journal(path) as journal:
        journal.append([entry(1)])
    with pytest.raises(JournalError, match="a journal is there already"):
        create_journal(path)
    assert keys(path) == ["k1"]
    assert sorted(file.name for file in path.parent.iterdir()) == [FILE, f"{FILE}-journal"]


def test_who_makes_it_while_another_does_opens_the_one_that_is_there(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    link = os.link

    def quicker(new: Path, place: Path) -> None:
        link(new, place)
        link(new, place)

    path.unlink(missing_ok=True)
    monkeypatch.setattr(os, "link", quicker)
    with open_or_create(path) as journal:
        assert journal.append([entry(1)]) == 1


def test_a_disk_without_second_names_of_files_takes_a_journal_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(new: Path, place: Path) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    create_journal(tmp_path / FILE)
    assert keys(tmp_path / FILE) == []
    with pytest.raises(JournalError, match="a journal is there already"):
        create_journal(tmp_path / FILE)


def test_what_a_former_journal_left_unfinished_is_never_mixed_into_a_new_one(path: Path) -> None:
    left = path.with_name(f"{FILE}-journal")
    path.unlink()
    left.write_bytes(b"pages of the former file")
    with pytest.raises(JournalError, match="something of a journal that is gone") as caught:
        create_journal(path)
    assert (caught.value.file, path.exists()) == (str(left), False)
    left.write_bytes(b"")
    create_journal(path)
    assert keys(path) == []


@pytest.mark.parametrize("name", ["journal # 1?.sqlite", "50 %41.sqlite", "größe.sqlite"])
def test_any_name_of_a_file_will_do(tmp_path: Path, name: str) -> None:
    create_journal(tmp_path / name)
    with open_journal(tmp_path / name) as journal:
        journal.append([entry(1)])
    assert keys(tmp_path / name) == ["k1"]


def test_where_there_is_none_it_says_so_and_makes_none(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match="there is no journal here"):
        open_journal(tmp_path / FILE)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match="cannot be opened"):
        create_journal(tmp_path / "nowhere" / FILE)


def test_a_file_of_something_else_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("dear diary, " * 100, encoding="utf-8")
    with pytest.raises(DamagedJournalError, match="is no journal, or is damaged from its beginning"):
        open_journal(tmp_path / "a")
    with closing(sqlite3.connect(tmp_path / "b")) as other:
        other.execute("CREATE TABLE letters (words)")
    with pytest.raises(JournalError, match="is a database, and no journal"):
        open_journal(tmp_path / "b")


# versions


NEWER = (*STEPS, ("ALTER TABLE entry ADD COLUMN phone TEXT", "CREATE INDEX by_phone ON entry (phone)"))


def test_a_journal_of_a_newer_version_is_refused_and_not_touched(tmp_path: Path) -> None:
    create_journal(tmp_path / FILE, NEWER)
    before = (tmp_path / FILE).read_bytes()
    with pytest.raises(JournalError, match="is of version 2, and this blockrun knows versions up to 1"):
        open_journal(tmp_path / FILE)
    assert (tmp_path / FILE).read_bytes() == before


def test_an_older_journal_is_copied_first_and_then_brought_up_to_date(path: Path) -> None:
    with open_journal(path) as journal:
        journal.append([entry(1)])
    with open_journal(path, steps=NEWER) as journal:
        assert journal.entries() == [entry(1)]
        assert journal._database.execute("SELECT count(phone) FROM entry").fetchone() == (0,)
    copy = path.with_name("journal.version-1.sqlite")
    assert keys(copy) == ["k1"]
    with open_journal(path, steps=NEWER):
        pass
    assert not path.with_name("journal.version-1-2.sqlite").exists()


def test_a_step_that_fails_leaves_the_journal_as_it_was(path: Path) -> None:
    with open_journal(path) as journal:
        journal.append([entry(1)])
    with pytest.raises(JournalError, match="cannot be used"):
        open_journal(path, steps=(*STEPS, ("CREATE TABLE half (a)", "CREATE TABLE entry (a)")))
    assert keys(path) == ["k1"]
    with open_journal(path) as journal:
        assert journal._database.execute("SELECT count(*) FROM sqlite_schema WHERE name = 'half'").fetchone() == (0,)


def test_an_older_journal_that_may_only_be_read_says_what_to_do(path: Path) -> None:
    with pytest.raises(JournalError, match="must be brought up to date before it is read"):
        open_journal(path, read_only=True, steps=NEWER)


def test_steps_that_were_taken_once_are_never_changed() -> None:
    """A file made by any earlier version has this table: write a further step instead."""
    assert STEPS[0] is FIRST
    assert "digest TEXT NOT NULL" in FIRST[0]
    assert len(FIRST) == 3
    assert int.from_bytes(b"blkj", "big") == APPLICATION


# what goes wrong


def test_a_full_disk_loses_nothing_that_was_recorded_and_says_that_this_was_not(
    path: Path, full_disk: FullDisk
) -> None:
    with open_journal(path) as journal:
        journal.append([entry(1)])
        with full_disk(path.stat().st_size), pytest.raises(JournalError, match="the disk does not take") as caught:
            journal.append([note(number, "x" * 2000) for number in range(2, 40)])
        assert "Nothing of this was recorded" in str(caught.value)
        assert journal.entries() == [entry(1)]
        journal.append([entry(2)])
    assert keys(path) == ["k1", "k2"]
    assert verify(path).faults == ()


def test_a_database_that_may_not_grow_says_that_the_disk_is_full(journal: Journal) -> None:
    journal.append([entry(1)])
    journal._database.execute("PRAGMA max_page_count = 1").fetchall()
    with pytest.raises(JournalError, match="the disk is full") as caught:
        journal.append([note(number, "x" * 2000) for number in range(2, 40)])
    assert "Make room on the disk" in str(caught.value)
    assert journal.entries() == [entry(1)]


def test_a_disk_that_is_full_makes_no_half_journal(tmp_path: Path, full_disk: FullDisk) -> None:
    with full_disk(5000), pytest.raises(JournalError, match="the disk"):
        create_journal(tmp_path / FILE)
    assert not (tmp_path / FILE).exists()


def test_one_opened_to_be_read_is_not_written_to(path: Path) -> None:
    with open_journal(path) as journal:
        journal.append([entry(1)])
    with open_journal(path, read_only=True) as journal:
        assert journal.entries() == [entry(1)]
        with pytest.raises(JournalError, match="may only be read"):
            journal.append([entry(2)])
    assert keys(path) == ["k1"]


@pytest.fixture
def locked() -> Iterator[Path]:
    """A journal with one entry in a folder in which nobody may write, for a user without special rights."""
    folder = Path(tempfile.mkdtemp())
    create_journal(folder / FILE)
    with open_journal(folder / FILE) as journal:
        journal.append([entry(1)])
    for place, mode in ((folder / FILE, 0o444), (folder / f"{FILE}-journal", 0o444), (folder, 0o555)):
        place.chmod(mode)
    root = os.geteuid() == 0
    if root:
        os.seteuid(65534)
    yield folder / FILE
    if root:
        os.seteuid(0)
    folder.chmod(0o755)
    shutil.rmtree(folder)


def test_a_file_that_may_not_be_written_is_read_and_says_why_it_takes_nothing(locked: Path) -> None:
    with open_journal(locked) as journal:
        assert journal.entries() == [entry(1)]
        with pytest.raises(JournalError, match="may only be read") as caught:
            journal.append([entry(2)])
    assert "Check the permissions of the file and its folder" in str(caught.value)


def test_a_folder_that_may_not_be_written_takes_no_journal(locked: Path) -> None:
    with pytest.raises(JournalError, match="cannot be opened") as caught:
        create_journal(locked.with_name("other.sqlite"))
    assert caught.value.file == str(locked.with_name("other.sqlite"))


def test_somebody_who_writes_for_too_long_is_told(path: Path) -> None:
    with open_journal(path) as slow, open_journal(path) as other:
        slow._database.execute("BEGIN IMMEDIATE")
        other._database.execute("PRAGMA busy_timeout = 20")
        with pytest.raises(JournalError, match="somebody else has been writing") as caught:
            other.append([entry(1)])
        assert "Nothing of this was recorded. Try again." in str(caught.value)
        slow._database.execute("ROLLBACK")
        assert other.append([entry(1)]) == 1


def test_an_old_database_library_is_refused(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
    with pytest.raises(JournalError, match=r"the journal needs 3\.37\.0 or later"):
        open_journal(path)


def test_two_that_write_at_once_and_are_killed_lose_nothing_that_they_said_was_recorded(path: Path) -> None:
    writers = Writers(path, seed=7)
    writers.kill(6)
    assert writers.killed == 8
    with open_journal(path) as journal:
        recorded = [one.key for one in journal.entries()]
    assert len(writers.acknowledged) >= 8
    assert set(writers.acknowledged) <= set(recorded)
    assert len(recorded) - len(writers.acknowledged) <= writers.killed  # written, and killed before it was said
    assert {key.split("-")[0] for key in recorded} >= {"first", "second"}
    assert verify(path).faults == ()


def test_a_note_takes_its_words_from_whoever_wrote_them(journal: Journal) -> None:
    journal.append([entry(1, Note(words="wind", who="Ben", remark="from the east")), entry(2, poured(3))])
    first, second = journal.entries()
    assert (first.event.who, second.event.who) == ("Ben", "Ana")
