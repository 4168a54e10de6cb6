"""Thumb tests between the journal and what reckons with them: out of entries, and into them."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from blockrun.planner.thumbs.pressed import ThumbTest, in_order
from blockrun.planner.went import Stands, Went
from blockrun.yard.journal import FILE, Entry, open_or_create, standing
from blockrun.yard.journal.events import Stood, Thumbed
from blockrun.yard.journal.limits import told_in_words
from blockrun.yard.now import BatchNo, Standing, State, state_of

NumberOf = Callable[[str, int], int | None]
"""The number that a plan has for a batch recorded by the digits of some plan and the number there; None for none."""


def thumbs_in(entries: Iterable[Entry]) -> list[ThumbTest]:
    """All thumb tests that count, by time; those of which nobody knows what stood there are left out.

    Parameters
    ----------
    entries : of the journal.
    """
    told = [*entries]
    return [test for test, _ in _with_turns(told, state_of(told))]


def thumbs_standing(entries: Iterable[Entry]) -> list[ThumbTest]:
    """Those of what is in its mould yet, as far as anybody recorded the pour: sheets have no more use for the others.

    Parameters
    ----------
    entries : of the journal.
    """
    told = [*entries]
    state = state_of(told)
    return [
        test
        for test, here in _with_turns(told, state)
        if (here is None and not state.poured.keys() & {(test.plan, batch) for batch in test.batches})
        or (here is not None and here.stripped is None)
    ]


def _with_turns(entries: Iterable[Entry], state: State) -> list[tuple[ThumbTest, Standing | None]]:
    """Tests by time, their batches as their pours were recorded, each with what stood there by that; None for nothing.

    A plan made anew knows what was poured before it by those that recorded it, and not by the numbers that another plan
    made in between had for it.
    """
    into = {(here.place, at): here for here in state.turns for at, _ in here.thumbs}
    tests = in_order(_test(one, event, event.stood) for one, event in _thumbed(entries) if event.stood)
    stood = [(test, into.get((test.base or test.mould, test.pressed))) for test in tests]
    return [(_as_recorded(test, here) if here else test, here) for test, here in stood]


def _as_recorded(test: ThumbTest, here: Standing) -> ThumbTest:
    """The test with its batches as their pours were recorded."""
    plans = {one.batch[0] for one in here.filled}
    if test.plan in plans or len(plans) > 1:
        return test
    batches = {one.batch[1] for one in here.filled if one.poured < test.pressed}
    return replace(test, plan=plans.pop(), batches=tuple(sorted(batches)))


def entry_of(test: ThumbTest, entries: Iterable[Entry], written: datetime, who: str = "") -> Entry:
    """A test as an entry, with a key that is made of what it says: kept twice, it counts once.

    Parameters
    ----------
    entries : of the journal. Where the same test was undone before, this is another one.
    written : when it is recorded.

    Raises
    ------
    BadInput : its note, or who pressed, is longer than a journal takes.
    """
    fallen = {one.key for one in entries} - {one.key for one in standing(entries)}
    key = next(key for key in _keys(test) if key not in fallen)
    stood = Stood(
        plan=test.plan,
        turn=test.turn,
        batches=test.batches,
        mix=test.mix,
        poured=test.poured,
        age_h=test.age_h,
        strip_planned=test.strip_planned,
        strip_now=test.strip_now,
    )
    with told_in_words():
        event = Thumbed(mould=test.mould, base=test.base, thumb=test.thumb, who=who, remark=test.note, stood=stood)
    return Entry(key, test.pressed, written, event)


def keep(entry: Entry, directory: Path) -> None:
    """Put an entry into the journal of a folder; it is made with the first.

    Raises
    ------
    JournalError : it cannot be written.
    """
    with open_or_create(directory / FILE) as journal:
        journal.append([entry])


def went(entries: Iterable[Entry], number_of: NumberOf, at: datetime) -> Went:
    """What is recorded of the turns of a plan until a moment.

    Parameters
    ----------
    number_of : numbers that batches have in that plan.
    """
    state = state_of(entries, at)
    stands = {name: _stands(here, number_of) for name, here in state.moulds.items()}
    stands |= {mould: stands[base] for mould, base in state.sides.items() if base in stands}
    return Went(stands, _numbers(state.poured, number_of))


def _stands(here: Standing, number_of: NumberOf) -> Stands:
    return Stands(_numbers(here.batches, number_of), here.poured)


def _numbers(batches: Iterable[BatchNo], number_of: NumberOf) -> frozenset[int]:
    found = (number_of(plan, number) for plan, number in batches)
    return frozenset(number for number in found if number is not None)


def _thumbed(entries: Iterable[Entry]) -> Iterator[tuple[Entry, Thumbed]]:
    return ((entry, entry.event) for entry in standing(entries) if isinstance(entry.event, Thumbed))


def _test(entry: Entry, event: Thumbed, stood: Stood) -> ThumbTest:
    return ThumbTest(
        entry.happened,
        event.mould,
        event.base,
        stood.turn,
        stood.batches,
        stood.mix,
        stood.poured,
        stood.age_h,
        event.thumb,
        stood.strip_planned or stood.strip_now,
        stood.strip_now,
        event.remark,
        stood.plan,
        entry.number,
    )


def _keys(test: ThumbTest) -> Iterator[str]:
    digest = hashlib.blake2b("\n".join(map(str, test.key)).encode(), digest_size=12).hexdigest()
    yield f"thumb-{digest}"
    yield from (f"thumb-{digest}-{number}" for number in range(2, 1000))
