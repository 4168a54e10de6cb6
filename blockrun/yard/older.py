"""Plans made before the one in hand, by which some of what was recorded was done."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from blockrun.errors import BlockrunError
from blockrun.planner.folder import earlier_plans
from blockrun.yard.journal.events import Poured

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry


def older_of(plan: AsPlanned, entries: Iterable[Entry]) -> list[AsPlanned]:
    """Plans that are kept beside the one in hand, the oldest first, where a pour is by none that this one knows.

    One that cannot be read is left out: the plan in hand is as good without it.
    """
    poured = {(event.plan, event.batch) for entry in entries if isinstance(event := entry.event, Poured)}
    strange = {digits for digits, _ in poured - {plan.recorded_as(number) for number in plan.batches} if digits}
    return [*_kept(plan, strange)] if strange - {plan.id} else []


def _kept(plan: AsPlanned, digits: set[str]) -> Iterable[AsPlanned]:
    from blockrun.planner.as_planned import load_as_planned

    for _, folder in sorted(earlier_plans(plan.directory).items()):
        try:
            older = load_as_planned(folder)
            if older.id in digits and older.uses:
                yield older
        except BlockrunError:
            continue
