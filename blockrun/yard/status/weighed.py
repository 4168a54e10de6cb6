"""What was weighed of batches as they were poured: for the charts of foam and density, and beside their cards."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from blockrun.mix.records import Record
from blockrun.mix.tolerances import tolerances_of
from blockrun.yard.journal.events import Poured

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import State


def weighed_of(plan: AsPlanned, entries: Iterable[Entry]) -> Iterator[Record]:
    """Batches of which foam or wet mix was weighed, in order, each with what is due of it.

    Parameters
    ----------
    plan : whose foam and mixes say what is due.
    entries : those that stand and happened by then.
    """
    yield from (record for _, record in _weighed(plan, entries))


def off_card(plan: AsPlanned, entries: Iterable[Entry], state: State) -> Iterator[int]:
    """Batches that weighed more or less than their cards let pass, as long as good blocks of them are not laid.

    Parameters
    ----------
    plan, entries : as for ``weighed_of``.
    state : where every block is.
    """
    allowed = tolerances_of(plan.site.buckets)
    there = {lot.batch for pile in state.to_lay() for _, lot in pile.lots()}
    for event, record in _weighed(plan, entries):
        if record.is_off_card(allowed) and (event.plan, event.batch) in there:
            yield event.batch


def _weighed(plan: AsPlanned, entries: Iterable[Entry]) -> Iterator[tuple[Poured, Record]]:
    due = {name: mix.wet_density_kg_m3 for name, mix in plan.proportions.items()}
    foam_due = plan.site.foam_generator.density_kg_m3
    for entry in entries:
        if isinstance(event := entry.event, Poured) and (event.foam_g_l or event.wet_density_kg_m3):
            record = Record(
                str(event.batch),
                event.foam_g_l,
                event.wet_density_kg_m3,
                entry.happened.isoformat(timespec="minutes"),
                event.mix,
                foam_due,
                due.get(event.mix),
            )
            yield event, record
