"""Blocks that leave their rack before their time there is over: it is kept, and said."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.yard.journal.events import Stacked
from blockrun.yard.now import Lot
from blockrun.yard.now.piles import UNKNOWN, Pile
from blockrun.yard.record.said import day_said

if TYPE_CHECKING:
    from blockrun.yard.record.known import Known


def stacked_early(event: Stacked, known: Known) -> Iterator[str]:
    """Blocks that ``rack_for`` would keep on their rack for another day or more (our choice: hours do not matter)."""
    taken = [(known.off_rack(lot.since), n) for lot, n in _taken(event, known) if lot.batch != UNKNOWN]
    early = [(off, n) for off, n in taken if off.date() > known.at.date()]
    if early:
        n, last = sum(n for _, n in early), max(off for off, _ in early).date()
        are, them = ("is", "it") if n == 1 else ("are", "them")
        of = f"{n} of the blocks stacked {are} to stay on rack {event.rack} until {day_said(last)}"
        yield f"{of}. If that is not a slip, put {them} back, or keep {them} damp, covered and out of frost until then."


def _taken(event: Stacked, known: Known) -> Iterator[tuple[Lot, int]]:
    """Which blocks are taken to leave: of each kind those that came first."""
    pile = known.state.racks.get(event.rack, Pile())
    for blocks in event.blocks:
        left = blocks.count
        for lot in (lot for kind, lot in pile.lots() if kind == (blocks.mark, blocks.mix)):
            if n := min(left, lot.n_blocks):
                left -= n
                yield lot, n
