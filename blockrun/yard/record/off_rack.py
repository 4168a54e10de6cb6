"""Blocks that leave their rack before their time there is over: it is kept, and said."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.yard.journal.events import Stacked
from blockrun.yard.now.piles import UNKNOWN
from blockrun.yard.record.taken import taken_by

if TYPE_CHECKING:
    from blockrun.yard.record.known import Known


def stacked_early(event: Stacked, known: Known) -> Iterator[str]:
    """Blocks that ``rack_for`` would keep on their rack for another day or more (our choice: hours do not matter)."""
    taken = [one for one in taken_by(event, known.state) if one.lot.batch != UNKNOWN]
    all_of_them = [(known.off_rack(one.lot.since), one.n_blocks) for one in taken]
    early = [(off, n) for off, n in all_of_them if off.date() > known.at.date()]
    if early:
        n, last = sum(n for _, n in early), max(off for off, _ in early).date()
        are, them = ("is", "it") if n == 1 else ("are", "them")
        of = f"{n} of the blocks stacked {are} to stay on rack {event.rack} until {day_name(last)}"
        yield f"{of}. If that is not a slip, put {them} back, or keep {them} damp, covered and out of frost until then."
