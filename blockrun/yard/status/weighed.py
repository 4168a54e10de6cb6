"""What was weighed of batches as they were poured: for the charts of foam and density."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from blockrun.mix.records import Record
from blockrun.yard.called import batch_said
from blockrun.yard.journal.events import Poured
from blockrun.yard.off_card import foam_due_kg_m3, wet_due_kg_m3

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry


def weighed_of(plan: AsPlanned, entries: Iterable[Entry]) -> Iterator[Record]:
    """Batches of which foam or wet mix was weighed, in order, each with what is due of it.

    Parameters
    ----------
    plan : whose foam and mixes say what is due where no entry does.
    entries : those that stand and happened by then.
    """
    for entry in entries:
        if isinstance(event := entry.event, Poured) and (event.foam_g_l or event.wet_density_kg_m3):
            yield Record(
                batch_said((event.plan, event.batch), plan, entry.happened),
                event.foam_g_l,
                event.wet_density_kg_m3,
                entry.happened.isoformat(timespec="minutes"),
                event.mix,
                foam_due_kg_m3(event, plan),
                wet_due_kg_m3(event, plan),
            )
