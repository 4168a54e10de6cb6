"""Blocks of which batches an event takes, and which of them first: what is set apart is laid and missed last of all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from blockrun.yard.journal.events import BlocksCounted, Laid, Moved, OfBatch, Rejected, Stacked
from blockrun.yard.now.piles import BatchNo, Wanted, anything


def wanted_by(event: Moved | Stacked | Laid | Rejected | BlocksCounted) -> Sequence[Wanted]:
    """What it takes, the first before others: of the batches that are told alone, where there are some."""
    of = () if isinstance(event, BlocksCounted) else event.of
    if of:
        return [_numbers(of).__contains__]
    if isinstance(event, Moved | Stacked):
        return [anything]
    apart = _numbers(event.apart)
    if isinstance(event, Rejected):
        return [apart.__contains__, anything]
    return [lambda batch: batch not in apart, anything]


def _numbers(batches: Iterable[OfBatch]) -> set[BatchNo]:
    return {(batch.plan, batch.batch) for batch in batches}
