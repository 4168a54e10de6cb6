"""A state carried forward is the one that a replay of everything gives, whatever is added and asked for."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import Undone
from blockrun.yard.now import state_of
from blockrun.yard.record.carried import Carried
from tests.yard.now.test_laws import events

START = datetime(2027, 4, 5, 8)  # noqa: DTZ001


@st.composite
def entries(draw: st.DrawFn) -> list[Entry]:
    """Some things that happened, at few minutes, some of them undone."""
    n = draw(st.integers(0, 25))
    found: list[Entry] = []
    for number in range(1, n + 1):
        undoes = found and draw(st.integers(0, 9)) == 0
        event = Undone(key=draw(st.sampled_from(found)).key) if undoes else draw(events)
        at = START + timedelta(minutes=draw(st.integers(0, 8)))
        found.append(Entry(f"k{number}", at, at.replace(tzinfo=UTC) + timedelta(seconds=number), event, number))
    return found


@given(entries(), st.integers(0, 25), st.lists(st.integers(0, 8), max_size=4))
def test_a_state_carried_forward_is_that_of_a_replay(told: list[Entry], known: int, asked: list[int]) -> None:
    carried, there = Carried(told[:known]), told[:known]
    for one in told[known:]:
        own = [clash for clash in state_of([*there, one]).clashes if clash.entry.key == one.key]
        assert bool(carried.add([one])) == bool(own)
        if not own:
            there.append(one)
    for minute in asked:
        at = START + timedelta(minutes=minute)
        assert carried.at(at) == state_of(there, at)
        assert carried.counted == [one for one in standing(there) if one.happened <= at]
    assert carried.at() == state_of(there)
