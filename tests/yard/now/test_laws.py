"""Laws of the replay, whatever is recorded, right or wrong, in any order, and undone."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import (
    AnyEvent,
    Blocks,
    BlocksCounted,
    Fill,
    Laid,
    Moved,
    OfBatch,
    Poured,
    Rejected,
    SidesOff,
    Stacked,
    Stripped,
    Undone,
)
from blockrun.yard.now import Kind, Pile, State, state_of
from tests.yard.now.happened import entry

moulds = st.sampled_from(["a/01", "a/02"])
bases = st.sampled_from(["", "b1", "b2"])
racks = st.sampled_from(["east", "west"])
marks = st.sampled_from(["full", "half"])
mixes = st.sampled_from(["light", "heavy"])
minutes = st.integers(0, 30)
blocks = st.builds(Blocks, mark=marks, mix=mixes, count=st.integers(1, 5))
apart = st.lists(st.builds(OfBatch, batch=st.integers(1, 9)), max_size=2).map(tuple)
several = st.lists(blocks, min_size=1, max_size=3).map(tuple)
fills = st.builds(Fill, mould=moulds, base=bases, marks=st.lists(st.sampled_from(["", "full", "half"]), max_size=4))
events: st.SearchStrategy[Any] = st.one_of(
    st.builds(Poured, batch=st.integers(1, 9), mix=mixes, fills=st.lists(fills, min_size=1, max_size=3)),
    st.builds(SidesOff, mould=moulds, base=st.sampled_from(["b1", "b2"])),
    st.builds(Stripped, mould=moulds, base=bases, whole=several, broken=st.one_of(st.just(()), several)),
    st.builds(Moved, rack=racks, blocks=several, mould=st.sampled_from(["", "a/01", "b1"])),
    st.builds(Stacked, rack=racks, where=st.sampled_from(["", "gate"]), blocks=several),
    st.builds(Laid, part=st.just("wall"), course=st.sampled_from([None, 1]), blocks=several, apart=apart),
    st.builds(
        Rejected,
        place=st.sampled_from(["mould", "rack", "stack"]),
        name=st.sampled_from(["", "a/01", "b2", "east"]),
        blocks=several,
        why=st.just("flat"),
        apart=apart,
    ),
    st.builds(
        BlocksCounted,
        place=st.sampled_from(["rack", "stack"]),
        name=st.sampled_from(["", "east"]),
        mark=marks,
        mix=mixes,
        count=st.integers(0, 6),
    ),
)


class Yard(RuleBasedStateMachine):
    """A yard in which anything may be recorded."""

    def __init__(self) -> None:
        super().__init__()
        self.entries: list[Entry] = []

    def add(self, minute: int, event: AnyEvent) -> None:
        self.entries.append(entry(minute, event, key=f"key {len(self.entries)}"))

    @rule(minute=minutes, event=events)
    def record(self, minute: int, event: AnyEvent) -> None:
        self.add(minute, event)

    @precondition(lambda self: self.entries)
    @rule(minute=minutes, data=st.data())
    def undo(self, minute: int, data: st.DataObject) -> None:
        undone = data.draw(st.sampled_from(self.entries))
        self.add(minute, Undone(key=undone.key))

    @precondition(lambda self: self.entries)
    @rule(minute=minutes, event=events)
    def record_and_undo_at_once(self, minute: int, event: AnyEvent) -> None:
        before = state_of(self.entries)
        self.add(minute, event)
        self.add(minute, Undone(key=self.entries[-1].key))
        assert state_of(self.entries) == before

    @invariant()
    def no_block_is_made_or_lost(self) -> None:
        state = state_of(self.entries)
        assert everywhere(state) == state.cast + state.found

    @invariant()
    def no_count_is_below_nothing(self) -> None:
        state = state_of(self.entries)
        assert all(count > 0 for pile in piles(state) for count in pile.counts.values())
        assert all(lot.n_blocks > 0 for pile in piles(state) for _, lot in pile.lots())
        assert all(sum(lot.n_blocks for _, lot in pile.lots()) == len(pile) for pile in piles(state))

    @invariant()
    def the_order_in_which_entries_came_does_not_matter(self) -> None:
        shuffled = random.Random(len(self.entries)).sample(self.entries, len(self.entries))
        assert state_of(shuffled) == state_of(self.entries)


TestYard: Callable[..., Any] = Yard.TestCase
TestYard.settings = settings(max_examples=60, stateful_step_count=20, deadline=None)  # type: ignore[attr-defined]


def piles(state: State) -> list[Pile]:
    """Every place a block can be in."""
    return [*state.to_lay(), *state.laid.values(), state.broken, state.rejected, state.missing]


def everywhere(state: State) -> Counter[Kind]:
    """How many blocks of each kind there are in all places together."""
    return sum((Counter(pile.counts) for pile in piles(state)), Counter())


def test_the_laws_would_notice_a_block_that_is_made() -> None:
    state = State()
    state.cast["full", "light"] += 1
    assert everywhere(state) != state.cast
