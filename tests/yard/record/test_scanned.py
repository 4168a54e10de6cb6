"""What a scanner types of a label stands for the mould it is on, or for the batch in it."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.begun import Begun
from blockrun.planner.begun.facts import FILE as BEGUN
from blockrun.planner.begun.facts import BatchPoured
from blockrun.yard.journal import FILE
from blockrun.yard.journal.events import Crushed, Moved, Note, Poured, Rejected, SidesOff, Stacked, Stripped
from blockrun.yard.record.recorder import Recorded, Recorder, Typed
from tests.yard.record.conftest import NOW, Record

MONDAY, TUESDAY = "2027-04-05 08:24", "2027-04-06 13:00"
GANG, TRAY = "blockrun1 mould 7fe49f gang-2/01 1", "blockrun1 rack 7fe49f tray-1/01 1 east"


@pytest.fixture
def poured(record: Record) -> None:
    record(f"poured {GANG}", MONDAY)


def test_it_stands_for_the_batch_where_one_is_named(record: Record, recorder: Recorder, poured: None) -> None:
    record(f"test cube {GANG} 52kN 28d", TUESDAY)
    assert [one.event.batch for one in recorder.entries if isinstance(one.event, Poured | Crushed)] == [1, 1]


def test_it_stands_for_the_mould_or_the_base_where_one_is_named(
    record: Record, recorder: Recorder, poured: None
) -> None:
    record(f"sides {TRAY}", TUESDAY)
    record(f"stripped {GANG}, {TRAY}", TUESDAY)
    events = [one.event for one in recorder.entries if isinstance(one.event, SidesOff | Stripped)]
    assert [event.base or event.mould for event in events] == ["tray-1/b01", "gang-2/01", "tray-1/b01"]


def test_behind_its_batch_it_is_a_mould(record: Record, recorder: Recorder) -> None:
    record(f"poured 1 {GANG}", MONDAY)
    assert [*recorder.state.moulds] == ["gang-2/01"]


def test_it_may_be_one_word_in_quotes(recorder: Recorder) -> None:
    recorder.record(Typed(("poured", GANG), "a", MONDAY))
    recorder.record(Typed(("stripped", GANG), "b", TUESDAY))
    assert "gang-2/01" not in recorder.state.moulds


def test_on_a_rack_it_stands_for_that_once_its_mould_was_stripped(record: Record, poured: None) -> None:
    record("sides tray-1/b01", TUESDAY)
    record(f"stripped {TRAY}", TUESDAY)
    (rejected,) = record(f"rejected {TRAY} 1 thin light cracked", TUESDAY).entries
    assert isinstance(rejected.event, Rejected)
    assert (rejected.event.place, rejected.event.name) == ("rack", "east")


@pytest.fixture
def racked(record: Record, poured: None) -> None:
    """Of one batch the blocks of two moulds lie on the rack, and a label of one of them."""
    record("sides tray-1/b01", TUESDAY)
    record("stripped gang-2/01-2 tray-1/b01", TUESDAY)


RACKED = TRAY.replace("tray-1/01", "gang-2/01")


@pytest.mark.parametrize("words", ["stacked {}", "rejected {} cracked", "rejected {} 2 full cracked"])
def test_on_a_rack_it_stands_for_the_blocks_of_its_turn_alone(
    record: Record, recorder: Recorder, racked: None, words: str
) -> None:
    (entry,) = record(words.format(RACKED), "2027-04-20 09:00").entries
    assert isinstance(entry.event, Stacked | Rejected)
    assert [(one.mark, one.count) for one in entry.event.blocks] == [("full", 2)]
    assert [one.batch for one in entry.event.of] == [1]


def test_two_labels_on_a_rack_are_two_entries(record: Record, racked: None) -> None:
    entries = record(f"stacked {RACKED}, {TRAY} to the gate", "2027-04-20 09:00").entries
    events = [entry.event for entry in entries if isinstance(entry.event, Stacked)]
    assert [(one.mark, event.where) for event in events for one in event.blocks] == [
        ("full", "the gate"), ("thin", "the gate")
    ]  # fmt: skip


def test_a_label_on_a_rack_whose_blocks_are_gone_is_refused(record: Record, racked: None) -> None:
    record(f"stacked {RACKED}", "2027-04-20 09:00")
    record("stacked east", "2027-04-20 09:00")
    with pytest.raises(BadInput, match="nothing of what was in gang-2/01 is on rack east any more"):
        record(f"stacked {RACKED}", "2027-04-20 10:00")


@pytest.mark.parametrize("label", [GANG, RACKED])
def test_what_stands_in_its_mould_by_what_is_recorded_is_not_stacked(record: Record, poured: None, label: str) -> None:
    with pytest.raises(BadInput) as error:
        record(f"stacked {label}", TUESDAY)
    assert error.value.what == "what this label stands for is in gang-2/01 by what is recorded"
    assert error.value.todo == "First: blockrun record DIR stripped gang-2/01"


def test_what_is_rejected_of_a_label_on_a_rack_before_the_strip_is_told_as_in_the_mould(
    record: Record, poured: None
) -> None:
    (said,) = record(f"rejected {RACKED} flat", TUESDAY).said
    assert said.startswith("thrown out 2 full of gang-2/01, on no rack yet, flat")


def test_what_is_moved_of_a_label_on_a_rack_came_out_of_its_mould(record: Record, poured: None) -> None:
    record("stripped gang-2/01 stays", TUESDAY)
    (entry,) = record(f"moved {RACKED}", TUESDAY).entries
    assert isinstance(entry.event, Moved)
    assert (entry.event.mould, entry.event.rack) == ("gang-2/01", "east")


def test_what_cannot_be_told_of_a_label_on_a_rack_is_refused(record: Record, racked: None) -> None:
    with pytest.raises(BadInput) as error:
        record(f"thumb {RACKED} firm", "2027-04-20 09:00")
    assert error.value.what == "this label is on a rack, and its blocks stand in gang-2/01 no more"


def test_a_note_says_what_it_says(record: Record) -> None:
    (note,) = record("note blockrun1 looks odd", TUESDAY).entries
    assert isinstance(note.event, Note)


@pytest.mark.parametrize(
    ("words", "said", "todo"),
    [
        (f"stripped {GANG.replace('7fe49f', '3f9a1c')}", "another plan (3f9a1c; this one is 7fe49f)", "type the name"),
        (f"stripped {GANG[:-1]}3", "of turn 3 of gang-2/01, and another stands in it", "Take an old label off"),
        (f"stripped {GANG[:-1]}9", "of another plan", "type the name"),
        (f"thrown {GANG[:-1]}3", "batches 3 and 4 go into turn 3 of gang-2/01", "number of the batch"),
        (GANG, "a label does not tell what happened", "Say it first"),
        ("stripped blockrun1 stack 7fe49f wall 1 full light", "on a stack", "laid PART COURSE"),
        ("stripped blockrun1 mould 7fe49f gang-2/01", "a label that is not known here", "Scan a label"),
    ],
)  # fmt: skip
def test_what_it_cannot_stand_for_is_told(record: Record, poured: None, words: str, said: str, todo: str) -> None:
    with pytest.raises(BadInput) as error:
        record(words, TUESDAY)
    assert said in error.value.what
    assert todo in (error.value.todo or "")


# labels of a plan before: what they stand for is what was poured by it

OLD = "blockrun1 {} 7fe49f {}"


@pytest.fixture
def anew(small: AsPlanned, tmp_path: Path) -> Record:
    """The plan made anew in the morning of the second day, when batch 1 stands in its moulds."""
    folder = Path(shutil.copytree(small.directory, tmp_path / "anew"))
    shutil.copytree(small.directory, folder / "earlier" / "1")
    rows = (folder / "casts.csv").read_text(encoding="utf-8").replace(",gang-2/02,,3,2,4,", ",gang-2/02,,3,1,4,")
    (folder / "casts.csv").write_text(rows, encoding="utf-8")
    poured = datetime.fromisoformat(MONDAY)
    before = BatchPoured(number=1, plan="7fe49f", was=1, mixer="drum", mix="light", bags=3.5, poured=poured)
    facts = Begun(since=datetime.fromisoformat("2027-04-06T07:00"), batches=(before,))
    (folder / "inputs" / BEGUN).write_text(facts.text(), encoding="utf-8")
    plans = iter([small, *[load_as_planned(folder)] * 9])

    def typed(words: str, at: str) -> Recorded:
        recorder = Recorder(next(plans), tmp_path / FILE, NOW, NOW.replace(tzinfo=UTC))
        return recorder.record(Typed(tuple(words.split()), f"{at} {words}", at))

    typed("poured 1", MONDAY)
    return typed


def test_a_label_of_a_plan_before_stands_for_the_mould_that_it_filled(anew: Record) -> None:
    events = [one.event for one in anew(f"stripped {OLD.format('mould', 'gang-2/01 1')}", TUESDAY).entries]
    assert [event.mould for event in events if isinstance(event, Stripped)] == ["gang-2/01"]


def test_a_label_of_a_plan_before_stands_for_the_batch_that_it_poured(anew: Record) -> None:
    (entry,) = anew(f"test cube {OLD.format('mould', 'gang-2/01 1')} 52kN 28d", "2027-04-20 13:00").entries
    assert isinstance(entry.event, Crushed)
    assert (entry.event.plan, entry.event.batch) == ("7fe49f", 1)


def test_on_a_rack_a_label_of_a_plan_before_stands_for_that(anew: Record) -> None:
    anew("stripped gang-2/01 to east", TUESDAY)
    cracked = f"rejected {OLD.format('rack', 'gang-2/01 1 east')} 1 full light cracked"
    (entry,) = anew(cracked, "2027-04-06 15:00").entries
    assert isinstance(entry.event, Rejected)
    assert (entry.event.place, entry.event.name) == ("rack", "east")


@pytest.mark.parametrize("words", ["poured {}", "stripped {}", "thrown {} flat"])
def test_what_a_plan_before_had_not_poured_was_planned_anew(anew: Record, words: str) -> None:
    with pytest.raises(BadInput) as error:
        anew(words.format(OLD.format("mould", "gang-2/01 2")), TUESDAY)
    assert error.value.what == "this label is of the plan before (7fe49f), by which nothing was poured into it"
    assert "type the name" in (error.value.todo or "")
