"""One event after the other, each a step from one state of the yard to the next.

Whatever entries say, no block is made or lost: a step moves what is there. What it asks for besides is a clash.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.events import (
    Blocks,
    BlocksCounted,
    DayLost,
    Fill,
    Laid,
    MouldBack,
    MouldOut,
    Moved,
    Poured,
    Rejected,
    SidesOff,
    Stacked,
    Stripped,
    Thumbed,
    WeatherSeen,
)
from blockrun.yard.journal.standing import standing
from blockrun.yard.journal.uncollected import uncollected
from blockrun.yard.now.piles import UNKNOWN, BatchNo, Kind, Lot, Pile, Wanted, anything
from blockrun.yard.now.state import Clash, Filled, Standing, State
from blockrun.yard.now.wanted import wanted_by


def state_of(entries: Iterable[Entry], at: datetime | None = None) -> State:
    """Where every block is, by all entries that count.

    Parameters
    ----------
    entries : in any order; what comes out does not depend on it.
    at : only what happened until then; all of it unless told.
    """
    state = State()
    with uncollected():
        for entry in standing(entries):
            if at is not None and entry.happened > at:
                break
            go_on(state, entry)
    return state


def go_on(state: State, entry: Entry) -> None:
    """Let one entry more count, which happened after all others."""
    step = STEPS.get(type(entry.event))
    if step is not None:
        step(state, entry, entry.event)


def _pour(state: State, entry: Entry, event: Poured) -> None:
    state.poured[event.plan, event.batch].append(entry.happened)
    for fill in event.filled:
        _fill(state, entry, event, fill)


def _fill(state: State, entry: Entry, event: Poured, fill: Fill) -> None:
    for name in {fill.mould, fill.base} & state.out_of_use.keys():
        _clash(state, entry, f"{name} is out of use")
    at, here, batch = entry.happened, _ready_for(state, entry, fill), (event.plan, event.batch)
    for cavity, mark in enumerate(fill.marks, 1):
        if mark:
            kind = (mark, event.mix)
            here.filled.append(Filled(cavity, kind, batch, at))
            here.blocks.put(kind, Lot(batch, at, at, 1))
            state.cast[kind] += 1
    here.key, here.poured = entry.key, at


def _ready_for(state: State, entry: Entry, fill: Fill) -> Standing:
    """A mould to pour into: what stands in the way in it must have been stripped, though nobody said so."""
    place = fill.base or fill.mould
    here = state.moulds.get(place)
    cavities = {cavity for cavity, mark in enumerate(fill.marks, 1) if mark}
    if here is not None and here.key != entry.key and here.cavities & cavities:
        _clash(state, entry, f"{place} still holds {blocks_said(here.blocks.counts)} and was not stripped")
        _strip_all(state, here, entry.happened)
        here = None
    if fill.base and state.sides.get(fill.mould, fill.base) != fill.base:
        _clash(state, entry, f"the sides of {fill.mould} are still on {state.sides[fill.mould]}")
        _sides_off(state, fill.mould, entry.happened)
    if here is None:
        here = Standing(fill.mould, fill.base, Pile(), entry.key, entry.happened, bool(fill.base))
        state.moulds[place] = here
        state.turns.append(here)
    if here.sides_on:
        state.sides[fill.mould] = fill.base
    return here


def _strip_all(state: State, here: Standing, at: datetime) -> None:
    """Take out of a mould all that is left in it."""
    _clear(state, here, at)
    for kind, count in here.blocks.counts.items():
        _move([here.blocks], state.out[here.place], kind, count, at)


def _clear(state: State, here: Standing, at: datetime) -> None:
    del state.moulds[here.place]
    here.stripped = at
    if here.sides_on:
        state.sides.pop(here.mould, None)


def _sides_off(state: State, mould: str, at: datetime) -> None:
    here = state.moulds.get(state.sides.pop(mould, ""))
    if here is not None:
        here.sides_on, here.sides_off = False, at


def _take_sides(state: State, entry: Entry, event: SidesOff) -> None:
    if state.sides.get(event.mould) == event.base:
        _sides_off(state, event.mould, entry.happened)
    else:
        _clash(state, entry, f"the sides of {event.mould} are not on {event.base}")


def _strip(state: State, entry: Entry, event: Stripped) -> None:
    place, at = event.base or event.mould, entry.happened
    here = state.moulds.get(place)
    if here is None:
        _clash(state, entry, f"nothing stands in {place}")
        return
    for blocks in event.whole:
        _take(state, entry, _From([here.blocks], f"in {place}"), state.out[place], blocks)
    for blocks in event.broken:
        _take_lost(state, entry, _From([here.blocks], f"in {place}"), state.broken, blocks, here)
    if here.blocks:
        _clash(state, entry, f"{blocks_said(here.blocks.counts)} in {place} came out neither whole nor broken")
    _strip_all(state, here, at)


def _rack(state: State, entry: Entry, event: Moved) -> None:
    """To a rack: from the one named, or from beside the mould named; else from beside any, then from other racks."""
    beside, racks = [*state.out.values()], [pile for rack, pile in state.racks.items() if rack != event.rack]
    where = "out of a mould or on another rack"
    if event.from_rack:
        beside, racks, where = [], [state.racks[event.from_rack]], f"on rack {event.from_rack}"
    elif event.mould:
        beside, racks, where = [state.out[event.mould]], [], f"out of {event.mould}"
    of = _From(beside, where, wanted_by(event), racks, _told_of(event))
    for blocks in event.blocks:
        _take(state, entry, of, state.racks[event.rack], blocks)
    if event.mould and not state.out[event.mould]:
        del state.out[event.mould]


def _stack(state: State, entry: Entry, event: Stacked) -> None:
    of = _From([state.racks[event.rack]], f"on rack {event.rack}", wanted_by(event), batches=_told_of(event))
    for blocks in event.blocks:
        _take(state, entry, of, state.stacks[event.where], blocks)


def _told_of(event: Moved | Stacked | Laid | Rejected) -> tuple[BatchNo, ...]:
    return tuple((one.plan, one.batch) for one in event.of)


def _lay(state: State, entry: Entry, event: Laid) -> None:
    """From the stack, else right from a rack, else from beside a mould; what is set apart last of all."""
    wanted = wanted_by(event)
    for blocks in event.blocks:
        sources = [*state.stacks.values(), *state.racks.values(), *state.out.values()]
        of = _From(sources, "stacked, on a rack or out of a mould", wanted, batches=_told_of(event))
        _take(state, entry, of, state.laid[event.part, event.course or 0], blocks)


def _reject(state: State, entry: Entry, event: Rejected) -> None:
    here = state.standing_in(event.name) if event.place == "mould" else None
    sources = _named(state, event.place, event.name) if here is None else [here.blocks, state.out[here.place]]
    wanted = wanted_by(event)
    of = _From(sources, _place_said(event.place, event.name), wanted, batches=_told_of(event))
    for blocks in event.blocks:
        _take_lost(state, entry, of, state.rejected, blocks, here)
    if here is not None and not here.blocks:
        _clear(state, here, entry.happened)


def _count(state: State, entry: Entry, event: BlocksCounted) -> None:
    """A count is believed: what is not there is missing, what is there besides was missing before, or is found."""
    kind, at = (event.mark, event.mix), entry.happened
    piles = _named(state, event.place, event.name) or [_of(state, event.place)[event.name]]
    more = event.count - sum(pile.count(kind) for pile in piles)
    if more < 0:
        _move(piles, state.missing, kind, -more, at, wanted_by(event))
        return
    more -= _move([state.missing], piles[0], kind, more, at)
    piles[0].put(kind, Lot(UNKNOWN, at, at, more))
    if more:
        state.found[kind] += more


def _of(state: State, place: str) -> dict[str, Pile]:
    return {"rack": state.racks, "stack": state.stacks, "mould": state.out}[place]


def _named(state: State, place: str, name: str) -> list[Pile]:
    """Piles of a kind of place: the one named, or all of them."""
    places = _of(state, place)
    return [places[name]] if name in places else [] if name else list(places.values())


def _press(state: State, entry: Entry, event: Thumbed) -> None:
    here = state.moulds.get(event.base or event.mould)
    if here is not None:
        here.thumbs.append((entry.happened, event.thumb))
    elif event.stood is None or state.poured.keys() & {(event.stood.plan, batch) for batch in event.stood.batches}:
        # whoever presses thumbs and records no pours has nothing to mend
        _clash(state, entry, f"nothing stands in {event.base or event.mould}")


def _see(state: State, entry: Entry, event: WeatherSeen) -> None:
    state.air[event.day] = event  # who reads it again later knows better


def _lose(state: State, entry: Entry, event: DayLost) -> None:
    state.lost.add(event.day)


def _take_out(state: State, entry: Entry, event: MouldOut) -> None:
    state.out_of_use.setdefault(event.mould, entry.happened)


def _bring_back(state: State, entry: Entry, event: MouldBack) -> None:
    if state.out_of_use.pop(event.mould, None) is None:
        _clash(state, entry, f"{event.mould} was not out of use")


@dataclass(frozen=True)
class _From:
    """Where blocks are taken from.

    Parameters
    ----------
    piles : that have them, the first first.
    where : these are, in words.
    of : which batches are wanted, those of the first before all others.
    still : piles that come after; on these they have been since they are where they are going.
    batches : that are told.
    """

    piles: Sequence[Pile]
    where: str
    of: Sequence[Wanted] = (anything,)
    still: Sequence[Pile] = ()
    batches: tuple[BatchNo, ...] = ()


def _take(state: State, entry: Entry, of: _From, to: Pile, blocks: Blocks) -> None:
    """Move blocks; what is not there is a clash."""
    kind = (blocks.mark, blocks.mix)
    moved = _move(of.piles, to, kind, blocks.count, entry.happened, of.of)
    moved += _move(of.still, to, kind, blocks.count - moved, None, of.of)
    if moved < blocks.count:
        there = f"only {moved} {'is' if moved == 1 else 'are'}" if moved else "none is"
        told = f"{blocks.count} {blocks.mark} ({blocks.mix}) are told"
        _clash(state, entry, f"{told}, and {there} {of.where}", of.batches)


def _take_lost(state: State, entry: Entry, of: _From, to: Pile, blocks: Blocks, here: Standing | None) -> None:
    """The same of blocks that are lost: the mould keeps in mind those that it held."""
    kind = (blocks.mark, blocks.mix)
    before = Pile() if here is None else here.blocks.copy()
    _take(state, entry, of, to, blocks)
    if here is not None:
        lost = before.count(kind) - here.blocks.count(kind)
        _move([before], here.lost, kind, lost, entry.happened, of.of)


def _move(
    sources: Sequence[Pile],
    to: Pile,
    kind: Kind,
    count: int,
    at: datetime | None,
    wanted: Sequence[Wanted] = (anything,),
) -> int:
    """Move blocks, those of some batches first, from the first of several places that have them.

    Parameters
    ----------
    at : since when they are there; None where they have been there before, as on a rack.

    Returns
    -------
    How many.
    """
    left = count
    for of in wanted:
        for pile in sources:
            if left and pile is not to:
                for lot in pile.take(kind, left, at, of=of):
                    to.put(kind, lot)
                    left -= lot.n_blocks
    return count - left


def _place_said(place: str, name: str) -> str:
    if place == "mould":
        return f"in {name}"
    return f"on rack {name}" if name and place == "rack" else f"on the {place}"


def blocks_said(counts: dict[Kind, int]) -> str:
    """Blocks by mark: ``2 full, 1 half``."""
    return ", ".join(f"{count} {mark}" for (mark, _), count in sorted(counts.items())) or "nothing"


def _clash(state: State, entry: Entry, what: str, of: tuple[BatchNo, ...] = ()) -> None:
    state.clashes.append(Clash(entry, what, of))


STEPS: Final[dict[type, Callable[[State, Entry, Any], None]]] = {
    Poured: _pour,
    SidesOff: _take_sides,
    Stripped: _strip,
    Moved: _rack,
    Stacked: _stack,
    Laid: _lay,
    Rejected: _reject,
    BlocksCounted: _count,
    Thumbed: _press,
    WeatherSeen: _see,
    DayLost: _lose,
    MouldOut: _take_out,
    MouldBack: _bring_back,
}
"""What each kind of event does; the others move no block."""
