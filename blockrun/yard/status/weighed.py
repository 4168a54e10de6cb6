"""What was weighed of batches as they were poured: for the charts of foam and density."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from blockrun.mix.records import Record
from blockrun.yard.journal.events import Poured

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry


def weighed_of(plan: AsPlanned, entries: Iterable[Entry]) -> Iterator[Record]:
    """Batches of which foam or wet mix was weighed, in order, each with what is due of it.

    Parameters
    ----------
    plan : whose foam and mixes say what is due.
    entries : those that stand and happened by then.
    """
    due = {name: mix.wet_density_kg_m3 for name, mix in plan.proportions.items()}
    foam_due = plan.site.foam_generator.density_kg_m3
    for entry in entries:
        if isinstance(event := entry.event, Poured) and (event.foam_g_l or event.wet_density_kg_m3):
            yield Record(
                str(event.batch),
                event.foam_g_l,
                event.wet_density_kg_m3,
                entry.happened.isoformat(timespec="minutes"),
                event.mix,
                foam_due,
                due.get(event.mix),
            )
