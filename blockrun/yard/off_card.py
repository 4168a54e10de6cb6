"""What of a batch weighs more or less than its card lets pass, by what was recorded of its pour."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.mix.off_card import OffCard
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal.events import Poured


def foam_due_kg_m3(event: Poured, plan: AsPlanned) -> float:
    """What the card that a batch was poured to asked of foam; by the plan in hand where no entry says so."""
    return event.foam_due_g_l or plan.site.foam_generator.density_kg_m3


def wet_due_kg_m3(event: Poured, plan: AsPlanned) -> float | None:
    """The same of its wet mix; None where nobody knows the mix."""
    return event.wet_due_kg_m3 or wet_by_plan_kg_m3(event.mix, plan)


def wet_by_plan_kg_m3(mix: str, plan: AsPlanned) -> float | None:
    """What the cards of a plan ask of a wet mix; None where it has no such mix."""
    known = plan.proportions.get(mix)
    return None if known is None else known.wet_density_kg_m3


def off_card(event: Poured, plan: AsPlanned) -> Iterator[OffCard]:
    """What was weighed of a batch and is beyond its limits, the foam first.

    Parameters
    ----------
    plan : the one in hand: its container says how near anybody can weigh, and what is due where no entry does.
    """
    if not event.is_weighed:
        return
    from blockrun.mix import off_card as beyond
    from blockrun.mix.tolerances import tolerances_of

    allowed = tolerances_of(plan.site.buckets)
    yield from beyond.off_card("foam", event.foam_g_l, foam_due_kg_m3(event, plan), allowed)
    if event.wet_density_kg_m3 is not None and (due := wet_due_kg_m3(event, plan)) is not None:
        yield from beyond.off_card("wet mix", event.wet_density_kg_m3, due, allowed)


def speaks_against(event: Poured, plan: AsPlanned) -> OffCard | None:
    """Why blocks of a batch are not to be laid as they are: the weight of the mix, or of foam where that is unknown.

    Foam that was off makes no difference any more where the mix came out as on its card: `blockrun check` lets that
    pass with care.
    """
    found = {one.what: one for one in off_card(event, plan)}
    return found.get("wet mix") or (found.get("foam") if event.wet_density_kg_m3 is None else None)
