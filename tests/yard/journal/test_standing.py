"""What counts once undoings are heeded, whatever the order in which entries came."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import Note, Undone
from tests.yard.journal.made import entry, note, undone

FEW = ("a", "b", "c", "d", "e", "f")


def keys(entries: list[Entry]) -> list[str]:
    return [one.key for one in standing(entries)]


def test_entries_stand_by_when_they_happened() -> None:
    late = entry(9, minutes=1)
    assert keys([entry(3), entry(2), late]) == ["k9", "k2", "k3"]


def test_entries_of_one_command_stand_in_its_order_however_many_they_are() -> None:
    told = [entry(1, key=key) for key in ("k+10", "k+9", "k+2", "k", "k+11")]
    assert keys(told) == ["k", "k+2", "k+9", "k+10", "k+11"]


def test_what_is_undone_counts_no_longer() -> None:
    assert keys([note(1), note(2), undone(3, "k1")]) == ["k2"]


def test_an_undoing_may_come_before_what_it_undoes() -> None:
    assert keys([undone(3, "k1"), note(1)]) == []


def test_who_undoes_an_undoing_restores() -> None:
    told = [note(1), undone(2, "k1"), undone(3, "k2")]
    assert keys(told) == ["k1"]
    assert keys([*told, undone(4, "k3")]) == []


def test_what_two_undid_comes_back_when_both_are_undone() -> None:
    twice = [note(1), undone(2, "k1"), undone(3, "k1")]
    assert keys([*twice, undone(4, "k2")]) == []
    assert keys([*twice, undone(4, "k2"), undone(5, "k3")]) == ["k1"]


def test_an_undoing_of_nothing_changes_nothing() -> None:
    assert keys([note(1), undone(2, "k9")]) == ["k1"]


def test_a_ring_of_undoings_falls_and_what_it_undid_with_it() -> None:
    ring = [undone(2, "k3"), undone(3, "k2")]
    assert keys([note(1), undone(4, "k1"), *ring]) == []
    assert keys([note(1), *ring]) == ["k1"]


@st.composite
def tangled(draw: st.DrawFn) -> list[Entry]:
    """Entries of a few keys that undo one another every way."""
    chosen = draw(st.lists(st.sampled_from(FEW), unique=True, min_size=1))
    told = st.one_of(st.builds(Undone, key=st.sampled_from(FEW)), st.just(Note(words="x")))
    return [entry(number, draw(told), key=key) for number, key in enumerate(chosen)]


@given(tangled(), st.data())
def test_any_order_of_arrival_gives_one_state(told: list[Entry], data: Any) -> None:
    assert standing(data.draw(st.permutations(told))) == standing(told)


@given(tangled())
def test_nothing_stands_that_something_standing_undoes(told: list[Entry]) -> None:
    stand = {one.key for one in standing(told)}
    for one in told:
        if isinstance(one.event, Undone) and one.event.key in stand:
            undoers = [other for other in told if isinstance(other.event, Undone) and other.event.key == one.key]
            assert undoers


@given(st.lists(st.sampled_from(FEW), unique=True, min_size=1), st.data())
def test_recording_undoing_and_undoing_that_is_recording(chosen: list[str], data: Any) -> None:
    told = [note(number) for number in range(len(chosen))]
    one = data.draw(st.sampled_from(told))
    mistaken = Entry("u", one.happened, one.written, Undone(key=one.key))
    again = Entry("v", one.happened, one.written, Undone(key="u"))
    assert standing([*told, mistaken]) == [other for other in told if other.key != one.key]
    assert standing([*told, mistaken, again]) == standing(told)
