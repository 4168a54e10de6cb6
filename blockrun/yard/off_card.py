"""What of a batch weighs more or less than its card lets pass, by what was recorded of its pour."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.mix.off_card import OffCard
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal.events import Poured


def off_card(event: Poured, plan: AsPlanned) -> Iterator[OffCard]:
    """What was weighed of a batch and is beyond its limits, the foam first.

    Parameters
    ----------
    plan : whose foam and mixes say what is due; nothing is told of a mix that it has not.
    """
    if event.foam_g_l is None and event.wet_density_kg_m3 is None:
        return
    from blockrun.mix import off_card as beyond
    from blockrun.mix.tolerances import tolerances_of

    allowed = tolerances_of(plan.site.buckets)
    yield from beyond.off_card("foam", event.foam_g_l, plan.site.foam_generator.density_kg_m3, allowed)
    if event.wet_density_kg_m3 is not None and event.mix in plan.proportions:
        due = plan.proportions[event.mix].wet_density_kg_m3
        yield from beyond.off_card("wet mix", event.wet_density_kg_m3, due, allowed)


def speaks_against(event: Poured, plan: AsPlanned) -> OffCard | None:
    """Why blocks of a batch are not to be laid as they are: the weight of the mix, or of foam where that is unknown.

    Foam that was off makes no difference any more where the mix came out as on its card: `blockrun check` lets that
    pass with care.
    """
    found = {one.what: one for one in off_card(event, plan)}
    return found.get("wet mix") or (found.get("foam") if event.wet_density_kg_m3 is None else None)
