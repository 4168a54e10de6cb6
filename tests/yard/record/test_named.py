"""Moulds are typed as gloves allow: short, in runs, several in one line."""

from __future__ import annotations

import pytest

from blockrun.errors import BadInput
from blockrun.yard.journal.events import Event, Moved, Rejected, SidesOff, Stripped
from blockrun.yard.record.named import in_short, moulds_named
from blockrun.yard.record.recorder import Recorder
from blockrun.yard.record.words import Words
from tests.yard.record.conftest import Record

MONDAY, TUESDAY = "2027-04-05 08:24", "2027-04-06 13:00"
NAMES = [
    *(f"ring-5/{number:02d}" for number in range(1, 8)),
    *(f"gang-4/{number:02d}" for number in range(1, 4)),
    *(f"tray-3/b{number:02d}" for number in range(1, 7)),
    "tray-3/01",
]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("ring-5/1", ["ring-5/01"]),
        ("ring-5/1-3", ["ring-5/01", "ring-5/02", "ring-5/03"]),
        ("ring-5/01-02, gang-4/03 to west", ["ring-5/01", "ring-5/02", "gang-4/03"]),
        ("ring-5/1,ring-5/2 firm", ["ring-5/01", "ring-5/02"]),
        ("tray-3/b02-03 b5", ["tray-3/b02", "tray-3/b03", "tray-3/b05"]),
        ("tray-3/b2-b3", ["tray-3/b02", "tray-3/b03"]),
        ("b01-02 and b04", ["tray-3/b01", "tray-3/b02", "tray-3/b04"]),
        ("B06", ["tray-3/b06"]),
    ],
)
def test_moulds_are_named_in_short_and_in_runs(typed: str, meant: list[str]) -> None:
    assert moulds_named(Words(typed.split()), NAMES) == meant


@pytest.mark.parametrize(
    ("typed", "what", "todo"),
    [
        ("gang-4/9", "there is no mould gang-4/9", "There are gang-4/01 to gang-4/03."),
        ("ring-5/6-9", "there is no mould ring-5/8", "There are ring-5/01 to ring-5/07."),
        ("rnig-5/3", "there is no mould rnig-5/3", "Did you mean ring-5/03?"),
        ("b9", "there is no mould b9", "There are gang-4/01 to gang-4/03, ring-5/01 to ring-5/07, tray-3/01, "
                                       "tray-3/b01 to tray-3/b06."),
        ("ring-5/4-1", "ring-5/4-1 goes backwards", "Write ring-5/1-4."),
        ("ring-5/1-3 ring-5/2", "ring-5/02 is named twice", "Name each mould once."),
    ],
)  # fmt: skip
def test_what_is_not_there_says_which_there_are(typed: str, what: str, todo: str) -> None:
    with pytest.raises(BadInput) as refused:
        moulds_named(Words(typed.split()), NAMES)
    assert (refused.value.what, refused.value.todo) == (what, todo)


def test_a_base_alone_is_asked_of_which_kind_where_two_have_it() -> None:
    with pytest.raises(BadInput) as refused:
        moulds_named(Words(["b01"]), [*NAMES, "slab/b01"])
    assert refused.value.todo == "Write slab/b01 or tray-3/b01."


def test_several_moulds_in_quotes_are_several() -> None:
    assert moulds_named(Words(["ring-5/1 ring-5/2"]), NAMES) == ["ring-5/01", "ring-5/02"]


def test_names_are_listed_from_the_first_to_the_last_of_a_kind() -> None:
    assert in_short(["a/02", "a/01", "b/b01"]) == "a/01 to a/02, b/b01"


@pytest.fixture
def poured(record: Record) -> None:
    record("poured 1", MONDAY)


def said(record: Record, words: str, at: str = TUESDAY) -> list[Event]:
    return [entry.event for entry in record(words, at).entries]


def places(events: list[Event]) -> list[str]:
    return [one.base or one.mould for one in events if isinstance(one, Stripped)]


def test_several_moulds_are_stripped_in_one_line_and_undone_together(
    record: Record, recorder: Recorder, poured: None
) -> None:
    events = said(record, "stripped gang-2/1-2 b1")
    assert places(events) == ["gang-2/01", "gang-2/02", "tray-1/b01"]
    assert len(events) == 6
    record("undo last", "2027-04-06 13:05")
    assert not recorder.state.racks["east"]


def test_each_mould_has_its_own_broken_and_the_rack_holds_for_all(record: Record, poured: None) -> None:
    events = said(record, "stripped gang-2/2 1 half broken, gang-2/1 to west")
    broken = [one.broken for one in events if isinstance(one, Stripped)]
    assert ([len(one) for one in broken], broken[0][0].mark) == ([1, 0], "half")
    assert [one.rack for one in events if isinstance(one, Moved)] == ["west", "west"]


def test_all_that_is_broken_is_typed_without_marks(record: Record, recorder: Recorder, poured: None) -> None:
    assert len(said(record, "stripped gang-2/1-2 all broken")) == 2
    assert recorder.state.broken.counts == {("full", "light"): 3, ("half", "light"): 1}


def test_marks_are_told_one_after_the_other_with_commas(record: Record, recorder: Recorder, poured: None) -> None:
    said(record, "stripped gang-2/2 1 full broken, 1 half broken")
    assert recorder.state.broken.counts == {("full", "light"): 1, ("half", "light"): 1}


def test_a_number_behind_several_moulds_is_of_the_one_that_it_stands_behind(
    record: Record, recorder: Recorder, poured: None
) -> None:
    said(record, "stripped gang-2/2, gang-2/1 1 broken to west")
    assert recorder.state.broken.counts == {("full", "light"): 1}
    assert recorder.state.racks["west"].counts == {("full", "light"): 2, ("half", "light"): 1}


@pytest.mark.parametrize(
    ("words", "what", "todo"),
    [
        ("stripped gang-2/2 1 broken", "which mark are the 1? gang-2/02 holds full and half",
         "Write it as: blockrun record DIR stripped gang-2/02 1 full broken or 1 half broken"),
        ("stripped gang-2/1-2 1 broken", "in which of these moulds?",
         "Write it behind its own, such as: blockrun record DIR stripped gang-2/01 1 broken gang-2/02"),
        ("stripped gang-2/1 broken", "how many are broken?",
         "Write it as: blockrun record DIR stripped gang-2/01 all broken, or so many, such as 1 broken."),
        ("stripped gang-2/1 all", "whole or broken?", "Write it behind the number, such as: all broken."),
        ("rejected gang-2/1-2 1 full flat", "of which of these moulds?",
         "One alone, such as: blockrun record DIR rejected gang-2/01 1 MARK WHY"),
    ],
)  # fmt: skip
def test_what_nobody_can_tell_is_asked(record: Record, poured: None, words: str, what: str, todo: str) -> None:
    with pytest.raises(BadInput) as refused:
        record(words, TUESDAY)
    assert (refused.value.what, refused.value.todo) == (what, todo)


def test_sides_thumbs_and_moulds_out_of_use_are_told_of_several(record: Record, poured: None) -> None:
    assert said(record, "sides b1") == [SidesOff(mould="tray-1/01", base="tray-1/b01")]
    assert [one.kind for one in said(record, "thumb gang-2/1-2 dents")] == ["thumbed", "thumbed"]
    assert [one.kind for one in said(record, "stripped gang-2/1-2 stays")] == ["stripped", "stripped"]
    assert [one.kind for one in said(record, "moved gang-2/1-2 to west")] == ["moved", "moved"]
    assert [one.kind for one in said(record, "mould gang-2/1-2 out torn")] == ["mould out", "mould out"]
    assert [one.kind for one in said(record, "mould gang-2/1-2 back")] == ["mould back", "mould back"]


def test_several_moulds_are_thrown_out_whole(record: Record, poured: None) -> None:
    events = said(record, "rejected gang-2/1-2 flat", "2027-04-05 08:40")
    assert [(one.name, one.why) for one in events if isinstance(one, Rejected)] == [
        ("gang-2/01", "flat"), ("gang-2/02", "flat"),
    ]  # fmt: skip


def test_a_whole_rack_is_thrown_out_but_not_where_a_mark_lacks_its_number(
    record: Record, recorder: Recorder, poured: None
) -> None:
    record("stripped gang-2/1-2", TUESDAY)
    with pytest.raises(BadInput, match="how many of which mark on east"):
        record("rejected east half cracked", TUESDAY)
    assert said(record, "rejected east frost damaged")[0].model_dump()["why"] == "frost damaged"
    assert not recorder.state.racks["east"]
