"""What batches filled of which no good block is left: the mix went into moulds, whatever became of it then."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from blockrun.site.mould_names import kind_named
from blockrun.yard.journal.events import Poured

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import BatchPoured, TurnBegun
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.replan.batches import Batches
    from blockrun.yard.replan.kept import Kept


def with_lost(
    batches: Batches, turns: Sequence[TurnBegun], entries: Iterable[Entry], plans: Sequence[Kept], site: Site
) -> Iterator[BatchPoured]:
    """The batches that were poured, each with the litres of what it filled besides its good blocks.

    Parameters
    ----------
    batches, entries : that were poured, and as they were recorded.
    turns : with all the good blocks there are.
    plans : made for the job; they know how big a block of each mark is.
    site : of the plan to come: its moulds for slabs.
    """
    volumes_l = {(line.mark, line.mix): line.volume_l for kept in reversed(plans) for line in kept.plan.ordered}
    events = [entry.event for entry in entries if isinstance(entry.event, Poured)]
    slabs_l = {kind.kind: math.prod(kind.cavity) / 1e6 for kind in site.moulds if kind.saw}
    for batch, event in zip(batches.poured, events, strict=True):
        good = [turn for turn in turns if _has_block(turn, batch.number)]
        slabs = {fill.mould for fill in event.filled if kind_named(fill.mould) in slabs_l}
        gone = slabs - {turn.mould for turn in good}
        cast = Counter(mark for fill in event.filled for mark in fill.marks if mark and fill.mould not in slabs)
        cast -= Counter(
            block.mark
            for turn in good
            if turn.kind not in slabs_l
            for block in turn.blocks
            if block.batch == batch.number
        )
        lost_l = sum(slabs_l[kind_named(mould)] for mould in gone)
        lost_l += sum(volumes_l.get((mark, batch.mix), 0.0) * count for mark, count in cast.items())
        yield batch.model_copy(update={"lost_l": lost_l})


def _has_block(turn: TurnBegun, number: int) -> bool:
    return any(block.batch == number for block in turn.blocks)
