"""What can be told of a yard."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from pydantic import ValidationError

from blockrun.errors import JournalError
from blockrun.yard.journal import FILE, Entry
from blockrun.yard.journal.entry import digest_of, entry_of, row_of
from blockrun.yard.journal.events import EVENTS, KINDS, Blocks, Fill, Laid, PersonAway, Poured, Stripped, WeatherSeen
from blockrun.yard.journal.faults import DamagedJournalError
from tests.yard.journal.made import entry, poured
from tests.yard.journal.strategies import entries

PLACE = Path(FILE)
FULL = Blocks(mark="full", mix="light", count=3)


def test_all_that_happens_in_a_yard_can_be_told() -> None:
    assert list(KINDS) == [
        "poured", "sides off", "stripped", "moved", "stacked", "laid", "rejected", "passed", "crushed", "thumbed",
        "delivered", "counted", "blocks counted", "weather seen", "day lost", "person away", "mould out", "mould back",
        "note", "undone",
    ]  # fmt: skip


@given(entries())
def test_any_entry_is_read_back_as_it_was(told: Entry) -> None:
    again = entry_of(row_of(told, 7), PLACE)
    assert (again, again.number) == (told, 7)


def test_what_nobody_told_takes_no_room() -> None:
    *_, told, _ = row_of(entry(1, Stripped(mould="gang-4/01", whole=(FULL,))), 1)
    assert json.loads(told) == {
        "kind": "stripped",
        "mould": "gang-4/01",
        "whole": [{"count": 3, "mark": "full", "mix": "light"}],
    }


@pytest.mark.parametrize(
    ("kind", "told"),
    [
        (Poured, {"batch": 0, "mix": "light", "fills": ({"mould": "a", "marks": ("x",)},)}),
        (Poured, {"batch": 1, "mix": "light", "fills": ()}),
        (Poured, {"batch": 1, "mix": "light", "fills": ({"mould": "a", "marks": ("x",)},), "foam_g_l": float("nan")}),
        (Stripped, {"mould": ""}),
        (Stripped, {"mould": "a", "whole": ({"mark": "x", "mix": "y", "count": 0},)}),
        (Stripped, {"mould": "a", "lost": 3}),
        (Laid, {"part": "wall", "blocks": ()}),
        (PersonAway, {"first": "soon", "last": date(2027, 4, 6)}),
        (PersonAway, {"first": date(2027, 4, 7), "last": date(2027, 4, 6)}),
        (WeatherSeen, {"day": date(2027, 4, 7), "min_degc": 9, "max_degc": 8}),
    ],
)
def test_what_cannot_be_is_refused(kind: type, told: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        kind(**told)


def test_events_do_not_change() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        poured(1).batch = 2  # type: ignore[misc]


def test_a_row_that_was_changed_is_not_believed() -> None:
    number, key, happened, written, told, digest = row_of(entry(1), 1)
    with pytest.raises(DamagedJournalError, match="entry 1 of the journal is not what was written"):
        entry_of((number, key, happened, written, told.replace("95.5", "99.5"), digest), PLACE)
    with pytest.raises(DamagedJournalError, match="entry 2"):
        entry_of((2, key, happened, written, told, digest), PLACE)


@pytest.mark.parametrize(
    "told",
    ['{"kind":"flown","to":"the moon"}', '{"kind":"note","words":"x","colour":"red"}', '{"words":"x"}', "[]", "x"],
)
def test_an_event_that_this_version_does_not_know_is_told(told: str) -> None:
    cells = (3, "k", "2027-04-05T08:00", "2027-04-05T08:00:00+00:00", told)
    with pytest.raises(JournalError, match="entry 3 of the journal cannot be read") as caught:
        entry_of((*cells, digest_of(*cells)), PLACE)
    assert caught.value.todo == "Was it written by a newer version?"
    assert not isinstance(caught.value, DamagedJournalError)


def test_numbers_are_not_taken_for_words_nor_words_for_numbers() -> None:
    assert EVENTS.validate_json('{"kind":"note","words":"12"}').words == "12"
    with pytest.raises(ValidationError):
        EVENTS.validate_json('{"kind":"note","words":12}')
    with pytest.raises(ValidationError):
        EVENTS.validate_json(
            '{"kind":"stripped","mould":"a","whole":[{"mark":"x","mix":"y","count":"3"}]}', strict=True
        )


def test_a_cavity_may_be_left_empty() -> None:
    assert Fill(mould="gang-4/01", marks=("full", "", "cut")).marks == ("full", "", "cut")
