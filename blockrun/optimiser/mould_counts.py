"""Moulds in the counts: filled, stripped, cleaned and filled again, the blocks in them, and how often all that can be.

What is filled in a slot goes into moulds that stand open then: begun by then, and not full before. What is stripped
was poured in turns that ended in time for it. Without these two rows turns that were begun early ripen for blocks that
are poured late.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.optimiser.counts import Counts
    from blockrun.optimiser.engine import Expression


def hold_moulds(counts: Counts, kind: int) -> None:
    """All rules of the moulds of one kind."""
    _filled(counts, kind)
    _turns_of_runs(counts, kind)
    _stripped(counts, kind)
    _filled_again(counts, kind)
    _blocks(counts, kind)


def _filled(counts: Counts, kind: int) -> None:
    """A turn fills at most its cavities and at least one; what is poured late is in turns that end late."""
    cavities, turns, filled = counts.problem.moulds[kind].cavities, counts.turns[kind], counts.cavities[kind]
    for day in counts.pour_days:
        of_day = counts.slots_of(day)
        for slot in of_day:
            counts.model.add(filled.between(slot, of_day[-1]) <= cavities * turns.between(slot, of_day[-1]))
        counts.model.add(filled.between(of_day[0], of_day[-1]) >= turns.between(of_day[0], of_day[-1]))


def _turns_of_runs(counts: Counts, kind: int) -> None:
    """No chain of refills is shorter than the earliest one."""
    for days, most in counts.limits.chains.rows(kind, counts.state, counts.last):
        first, last = counts.slots_of(days[0])[0], counts.slots_of(days[-1])[-1]
        counts.model.add(counts.turns[kind].between(first, last) <= most)


def _stripped(counts: Counts, kind: int) -> None:
    """A mould is stripped after its time, and cleaned after that; its blocks have come with it."""
    at, model = counts.standing[kind], counts.model
    turns, stripped, cleaned = counts.turns[kind], counts.stripped[kind], counts.cleaned[kind]
    ripe = counts.latest(partial(counts.when.strip_slot, kind))
    for slot in counts.slots:
        model.add(stripped.by(slot) <= turns.by(ripe[slot]) + at.ripe_by(slot))
        model.add(counts.racked[kind].by(slot) <= counts.cast[kind].by(ripe[slot]) + at.blocks_ripe_by(slot))
        model.add(cleaned.by(slot) <= stripped.by(slot) + at.to_clean)
        if kind in counts.bare:
            model.add(stripped.by(slot) <= counts.bare[kind].by(slot) + at.bare)


def _filled_again(counts: Counts, kind: int) -> None:
    """Turns begin in moulds that are free; what is filled on a day is filled in turns that did not end before it."""
    cavities, turns, filled = counts.problem.moulds[kind].cavities, counts.turns[kind], counts.cavities[kind]
    begun = _begun(counts, kind)
    for slot in counts.slots:
        for most in begun[slot]:
            counts.model.add(turns.by(slot) <= most)
    for day in counts.pour_days:
        first = counts.slots_of(day)[0]
        for slot in counts.slots_of(day):
            for most in begun[slot]:
                counts.model.add(filled.between(first, slot) <= cavities * (most - turns.by(first - 1)))


def _begun(counts: Counts, kind: int) -> dict[int, list[Expression]]:
    """Turns begun by the end of each slot, at the most: by what is clean by then, and by what may be."""
    at, when, turns, cleaned = counts.standing[kind], counts.when, counts.turns[kind], counts.cleaned[kind]
    refilled = counts.latest(partial(when.refill_slot, kind))
    begun: dict[int, list[Expression]] = {
        slot: [at.free + cleaned.by(slot), at.free + turns.by(refilled[slot]) + at.free_by(slot)]
        for slot in counts.slots
    }
    if kind in counts.bare:
        bared = counts.latest(partial(when.sides_slot, kind))
        for slot, found in begun.items():
            found.append(at.free_sides + counts.bare[kind].by(slot))
            found.append(at.free_sides + turns.by(bared[slot]) + at.sides_by(slot))
    return begun


def _blocks(counts: Counts, kind: int) -> None:
    """Blocks stay in the moulds of turns not stripped, at most so many as these give and at least one each."""
    at, most = counts.standing[kind], counts.problem.most_blocks(kind)
    turns, stripped, racked, cast = counts.turns[kind], counts.stripped[kind], counts.racked[kind], counts.cast[kind]
    for day in counts.days:
        last = counts.slots_of(day)[-1]
        in_moulds = turns.by(last) + at.to_strip - stripped.by(last)
        blocks = cast.by(last) + at.blocks_in_moulds - racked.by(last)
        counts.model.add(blocks <= most * in_moulds)
        counts.model.add(blocks >= in_moulds - at.empty)
    for slot in counts.slots:
        counts.model.add(racked.of[slot] <= most * stripped.of[slot])
        counts.model.add(racked.of[slot] >= stripped.of[slot] - at.empty)
