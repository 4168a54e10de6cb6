"""Two people record the same thing: the second is told at once by whom and when, and may say that it was twice."""

from __future__ import annotations

import pytest

from blockrun.errors import BadInput
from blockrun.yard.journal import open_journal
from blockrun.yard.journal.events import Note
from blockrun.yard.record.recorder import Recorder, Typed
from tests.yard.journal.made import entry
from tests.yard.record.conftest import Record

MONDAY, TUESDAY, LATER = "2027-04-05 08:24", "2027-04-06 13:00", "2027-04-13 14:00"


def told(recorder: Recorder, words: str, at: str, who: str, key: str = "") -> None:
    recorder.record(Typed(tuple(words.split()), key or f"{who} {words} {at}", at, who))


def refused(recorder: Recorder, words: str, at: str, who: str) -> str:
    with pytest.raises(BadInput) as error:
        told(recorder, words, at, who)
    return str(error.value)


@pytest.fixture
def poured(recorder: Recorder) -> Recorder:
    told(recorder, "poured 1", MONDAY, "Ana")
    return recorder


def test_a_strip_told_after_it_is_recorded_says_by_whom_and_when(poured: Recorder) -> None:
    told(poured, "stripped gang-2/1", TUESDAY, "Ana")
    said = refused(poured, "stripped gang-2/1 1 broken", "2027-04-06 13:10", "Ben")
    assert "nothing stands in gang-2/01 at 2027-04-06 13:10" in said
    assert "recorded as out of it, entry 2: stripped gang-2/01: whole 2 full, Tue 6 Apr 13:00, by Ana." in said


def test_a_strip_told_for_an_earlier_hour_is_the_same_strip(poured: Recorder) -> None:
    told(poured, "stripped gang-2/1", TUESDAY, "Ana")
    said = refused(poured, "stripped gang-2/1 1 broken", "2027-04-06 12:50", "Ben")
    assert "that is recorded already, entry 2: stripped gang-2/01: whole 2 full, Tue 6 Apr 13:00, by Ana" in said
    assert "If it truly happened twice: blockrun record DIR stripped gang-2/1 1 broken again" in said
    assert len(poured.entries) == 3


def test_a_strip_of_the_turn_before_is_another(poured: Recorder) -> None:
    told(poured, "stripped gang-2/1", "2027-04-06 13:00", "Ana")
    told(poured, "poured 2 gang-2/1", "2027-04-06 14:09", "Ana")
    told(poured, "stripped gang-2/1", "2027-04-08 08:10", "Ana")
    told(poured, "undo 2", "2027-04-08 09:00", "Ana")
    told(poured, "stripped gang-2/1", "2027-04-06 13:05", "Ben")
    assert poured.state.racks["east"].counts == {("full", "light"): 4}


def test_a_batch_is_poured_once_at_whatever_hour(poured: Recorder) -> None:
    said = refused(poured, "poured 1", "2027-04-05 08:00", "Ben")
    assert "recorded already, entry 1: batch 1 (light) poured into" in said
    assert "by Ana" in said


def test_a_batch_that_went_flat_may_be_poured_again(poured: Recorder) -> None:
    told(poured, "rejected gang-2/1 flat", "2027-04-05 08:40", "Ana")
    said = refused(poured, "poured 1 gang-2/1", "2027-04-05 09:30", "Ben")
    assert "batch 1 was poured already, 2027-04-05 08:24, entry 1, by Ana" in said
    told(poured, "poured 1 again gang-2/1", "2027-04-05 09:30", "Ben")
    assert len(poured.state.poured[poured.plan.id, 1]) == 2


def test_the_same_blocks_laid_twice_within_half_an_hour_are_asked_about(poured: Recorder) -> None:
    for mould in ("gang-2/1", "gang-2/2"):
        told(poured, f"stripped {mould}", TUESDAY, "Ana")
    told(poured, "laid wall 1 1 full", LATER, "Ana")
    assert "by Ana" in refused(poured, "laid wall 1 1 full", "2027-04-13 14:20", "Ben")
    told(poured, "laid wall 1 1 full again", "2027-04-13 14:20", "Ben")
    told(poured, "laid wall 1 1 full", "2027-04-13 15:30", "Ben")
    assert poured.state.laid["wall", 1].counts == {("full", "light"): 3}


def test_what_was_undone_may_be_told_again(poured: Recorder) -> None:
    told(poured, "delivered cement 80", TUESDAY, "Ana")
    assert "recorded already" in refused(poured, "delivered cement 80", "2027-04-06 13:05", "Ben")
    told(poured, "undo last", "2027-04-06 13:06", "Ana")
    told(poured, "delivered cement 80", "2027-04-06 13:05", "Ben")


def test_a_note_may_be_told_as_often_as_one_likes_and_end_with_again(recorder: Recorder) -> None:
    told(recorder, "note rain again", MONDAY, "Ana")
    told(recorder, "note rain again", MONDAY, "Ben")
    assert [entry.event for entry in recorder.entries] == [Note(words="rain again", who=who) for who in ("Ana", "Ben")]


def test_what_another_phone_recorded_in_the_meantime_is_heeded(poured: Recorder) -> None:
    """Both look at the journal before either has written."""
    other = Recorder(poured.plan, poured.path, poured.now, poured.written)
    told(other, "stripped gang-2/1", TUESDAY, "Ana")
    assert "by Ana" in refused(poured, "stripped gang-2/1", "2027-04-06 13:05", "Ben")
    told(other, "note swept", "2027-04-06 13:20", "Ana")
    told(poured, "stripped gang-2/2", "2027-04-06 13:05", "Ben")
    with open_journal(poured.path) as journal:
        assert [one.event.kind for one in journal.entries()] == [
            "poured", "stripped", "moved", "note", "stripped", "moved",
        ]  # fmt: skip


def test_what_is_added_after_others_than_were_heeded_is_not_kept(record: Record, recorder: Recorder) -> None:
    record("note rain", MONDAY)
    with open_journal(recorder.path) as journal:
        with pytest.raises(Exception, match="somebody else has recorded something"):
            journal.append([entry(1)], after=0)
        assert (journal.append([entry(1)], after=1), len(journal)) == (1, 2)
