"""Blocks that are moved to a rack, from beside a mould or on from another rack: moved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable

from blockrun.errors import BadInput
from blockrun.yard.called import batch_said
from blockrun.yard.journal import standing
from blockrun.yard.journal.events import AnyEvent, Blocks, Moved, OfBatch
from blockrun.yard.now import BatchNo, Kind, Standing
from blockrun.yard.record.blocks import blocks_of, blocks_typed
from blockrun.yard.record.fillers import if_filler
from blockrun.yard.record.known import Known
from blockrun.yard.record.mingled import Lots, check_which, of_typed
from blockrun.yard.record.said import entry_said
from blockrun.yard.record.words import Words


def moved(words: Words, known: Known) -> list[AnyEvent]:
    """``gang-4/3``, ``gang-4/3 to west``, ``gang-4/1-3``, ``4 full to west``, ``4 full of 7 to west``."""
    places = [] if words.is_number else known.moulds(words)
    blocks = blocks_typed(words, _kinds_of(places, known))
    if blocks and len(places) > 1:
        raise BadInput("of which mould?", f"One alone, such as: blockrun record DIR moved {places[0]} {_said(blocks)}")
    of = of_typed(words, known, _anywhere(known)) if blocks else ()
    to = words.take_if("to") or bool(words.peek)
    rack = known.rack(words.take("a rack")) if to else None
    if places:
        return [event for place in places for event in _from_mould(place, blocks, of, rack, known)]
    rack = rack or known.rack_for("", [])
    if not of:
        check_which(blocks, known, _anywhere(known, rack), f"blockrun record DIR moved {{}} to {rack}")
    return [Moved(rack=rack, blocks=blocks, of=of)]


def _anywhere(known: Known, but: str = "") -> Lots:
    """All that may be moved to a rack."""
    racks = (pile for rack, pile in known.state.racks.items() if rack != but)
    return (lot for pile in (*known.state.out.values(), *racks) for lot in pile.lots())


def _kinds_of(places: list[str], known: Known) -> Collection[Kind]:
    there = known.state.out.get(places[0]) if len(places) == 1 else None
    return there.counts.keys() if there else known.kinds


def _from_mould(
    place: str, blocks: tuple[Blocks, ...], of: tuple[OfBatch, ...], rack: str | None, known: Known
) -> Iterable[Moved]:
    out = known.state.out.get(place)
    if not out:
        return _onward(place, blocks, of, rack, known)
    rack = rack or known.rack_for(place, [lot.batch for _, lot in out.lots()])
    if blocks and not of:
        check_which(blocks, known, out.lots(), f"blockrun record DIR moved {place} {{}} to {rack}")
    return [Moved(rack=rack, blocks=blocks or blocks_of(out.counts), mould=place, of=of)]


def _onward(
    place: str, blocks: tuple[Blocks, ...], of: tuple[OfBatch, ...], rack: str | None, known: Known
) -> Iterable[Moved]:
    """From the rack that they went to, batch by batch: where several filled a mould they are not all alike."""
    nothing, number, before = f"nothing lies beside {place} to be moved", *_last_move(place, known)
    turn = next((turn for turn in reversed(known.state.turns) if turn.place == place), None)
    if turn is None or turn.stripped is None or not before:
        stripped = f"If it is stripped just now: blockrun record DIR stripped {place}{_of_before(place, before, known)}"
        raise BadInput(nothing, if_filler(place, known.plan) or stripped)
    if rack is None or rack == before:
        on = f"To move it on: blockrun record DIR moved {place} to RACK"
        raise BadInput(nothing, f"It went to rack {before}, {entry_said(number)}. {on}")
    batches = came_out_good(turn)
    if not blocks:
        return [
            Moved(rack=rack, blocks=blocks_of(counts), mould=place, from_rack=before, of=(_of(batch),))
            for batch, counts in batches.items()
        ]
    if not of:
        lots = ((kind, lot) for kind, lot in known.state.racks[before].lots() if lot.batch in batches)
        check_which(blocks, known, lots, f"blockrun record DIR moved {place} {{}} to {rack}")
    return [Moved(rack=rack, blocks=blocks, mould=place, from_rack=before, of=of or tuple(map(_of, batches)))]


def _of_before(place: str, rack: str, known: Known) -> str:
    """How what came out of a mould before it was filled again is moved on; empty where no batch of it can be typed."""
    blocks = _came_of(place, rack, known)
    how = f"blockrun record DIR moved {blocks} to RACK"
    return f". What came out of it before, by its batch: {how}" if blocks else ""


def where_it_went(place: str, known: Known) -> tuple[str, str]:
    """The rack on which blocks are that came out of a mould, and some of them, such as ``5 full of 7``; else empty."""
    _, rack = _last_move(place, known)
    blocks = _came_of(place, rack, known)
    return (rack, blocks) if blocks else ("", "")


def _came_of(place: str, rack: str, known: Known) -> str:
    """Blocks on a rack that came out of a mould last, by their batch; empty where no batch of them can be typed."""
    turn = next((turn for turn in reversed(known.state.turns) if turn.place == place and turn.stripped), None)
    batches = came_out_good(turn) if turn else {}
    for kind, lot in known.state.racks[rack].lots() if rack else ():
        count = min(lot.n_blocks, batches.get(lot.batch, Counter())[kind])
        batch = batch_said(lot.batch, known.plan, lot.poured)
        if count and not batch.endswith("plan"):
            return f"{count} {kind[0]} of {batch}"
    return ""


def _last_move(place: str, known: Known) -> tuple[int, str]:
    """The entry that moved what came out of a mould last, and to which rack; that is empty where none did."""
    for entry in reversed(standing(known.entries)):
        if isinstance(entry.event, Moved) and entry.event.mould == place and entry.happened <= known.at:
            return entry.number, entry.event.rack
    return 0, ""


def came_out_good(turn: Standing) -> dict[BatchNo, Counter[Kind]]:
    """What came out of a mould and was not lost, by batch."""
    found: dict[BatchNo, Counter[Kind]] = {}
    for one in turn.filled:
        found.setdefault(one.batch, Counter())[one.kind] += 1
    for kind, lot in turn.lost.lots():
        found[lot.batch][kind] -= lot.n_blocks
    return {batch: counts for batch, counts in found.items() if +counts}


def _of(batch: BatchNo) -> OfBatch:
    return OfBatch(plan=batch[0], batch=batch[1])


def _said(blocks: Iterable[Blocks]) -> str:
    return " ".join(f"{one.count} {one.mark}" for one in blocks)
