"""Which blocks an entry takes, and where from, as the replay will have it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from blockrun.yard.journal.events import Laid, Moved, Rejected, Stacked
from blockrun.yard.now import Kind, Lot, Pile, State
from blockrun.yard.now.piles import Wanted
from blockrun.yard.now.wanted import wanted_by


class Taken(NamedTuple):
    """Blocks of one lot that are taken from a place; how many of it, and where that is in words."""

    where: str
    pile: Pile
    kind: Kind
    lot: Lot
    n_blocks: int


def taken_by(event: Laid | Moved | Rejected | Stacked, state: State) -> Iterator[Taken]:
    """All that an entry takes, as far as it is there.

    Parameters
    ----------
    state : before the entry counts.
    """
    sources, wanted = [*_sources(event, state)], wanted_by(event)
    for blocks in event.blocks:
        left, kind = blocks.count, (blocks.mark, blocks.mix)
        there = [(where, pile, lot) for where, pile in sources for of, lot in pile.lots() if of == kind]
        by_rank = sorted(there, key=lambda one: _rank(one[2], wanted))
        for where, pile, lot in by_rank:
            n_blocks = min(left, lot.n_blocks) if _rank(lot, wanted) < len(wanted) else 0
            if n_blocks:
                left -= n_blocks
                yield Taken(where, pile, kind, lot, n_blocks)


def _rank(lot: Lot, wanted: Sequence[Wanted]) -> int:
    """How soon a lot is taken, 0 first; as many as there are ranks where never."""
    return next((rank for rank, of in enumerate(wanted) if of(lot.batch)), len(wanted))


def _sources(event: Laid | Moved | Rejected | Stacked, state: State) -> Iterator[tuple[str, Pile]]:
    if isinstance(event, Stacked):
        yield from _racks(state, event.rack)
        return
    if isinstance(event, Moved):
        yield from _moved_from(event, state)
        return
    if isinstance(event, Laid):
        yield from (*_stacks(state), *_racks(state), *_beside(state))
        return
    here = state.standing_in(event.name) if event.place == "mould" else None
    if here is not None:
        yield f"in {here.place}", here.blocks
        yield from _beside(state, here.place)
        return
    yield from {"rack": _racks, "stack": _stacks, "mould": _beside}[event.place](state, event.name)


def _moved_from(event: Moved, state: State) -> Iterator[tuple[str, Pile]]:
    """What is stripped in the same breath still stands in its mould."""
    if event.from_rack:
        yield from _racks(state, event.from_rack)
        return
    yield from _beside(state, event.mould)
    if event.mould and (here := state.standing_in(event.mould)):
        yield f"in {here.place}", here.blocks
    elif not event.mould:
        yield from ((where, pile) for where, pile in _racks(state) if pile is not state.racks.get(event.rack))


def _stacks(state: State, name: str = "") -> Iterator[tuple[str, Pile]]:
    return (("on the stack", pile) for where, pile in state.stacks.items() if name in {"", where})


def _racks(state: State, name: str = "") -> Iterator[tuple[str, Pile]]:
    return ((f"on rack {rack}", pile) for rack, pile in state.racks.items() if name in {"", rack})


def _beside(state: State, name: str = "") -> Iterator[tuple[str, Pile]]:
    return ((f"beside {place}", pile) for place, pile in state.out.items() if name in {"", place})
