"""The rule on the totals of a plan."""

from __future__ import annotations

import math
from collections.abc import Iterator
from numbers import Real
from typing import Final

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import figure, near
from blockrun.planner.audit.finding import Rule, Said


def plan_totals(case: Case) -> Iterator[Said]:
    """Total blocks, batches and materials rightly; a plan without totals is not judged by them."""
    if case.totals is None:
        return
    for name, right in totals_of(case).items():
        written = case.totals.get(name, "missing")
        if not _same(written, right):
            yield (
                f"totals {name}",
                f"in all, {_WORDS[name]}: {_said(written)} is said, but the plan gives {_said(right)}",
            )


_WORDS: Final = {
    "blocks": "blocks ordered",
    "spares": "spares",
    "batches": "batches",
    "cement_kg": "kg of cement",
    "cement_bags": "bags of cement",
    "water_kg": "kg of water",
    "agent_l": "L of foaming agent",
    "cost": "cost",
    "thrown_away_l": "L of mix thrown away",
    "days_of_pouring": "days of pouring",
}


def totals_of(case: Case) -> dict[str, float | None]:
    """Work the totals out again.

    Returns
    -------
    ``blocks`` are those ordered, ``spares`` those cast on top; ``thrown_away_l`` is what batches make less what is
    poured into cavities; ``cost`` is None unless cement and agent both have a price. Water, agent and cost have in
    them the bucket of foam that is weighed before each batch.
    """
    batches, weighed = list(case.batches.values()), to_weigh_foam(case.site)
    stock = case.site.stock
    n_spares = sum(cast.spare for cast in case.records.casts)
    bags, agent_l = (
        math.fsum(batch.bags for batch in batches),
        math.fsum(batch.agent_l + weighed.agent_l for batch in batches),
    )
    priced = stock.cement.price is not None and stock.foaming_agent.price is not None
    return {
        "blocks": len(case.records.casts) - n_spares,
        "spares": n_spares,
        "batches": len(batches),
        "cement_kg": math.fsum(batch.cement_kg for batch in batches),
        "cement_bags": bags,
        "water_kg": math.fsum(batch.water_kg + weighed.water_l for batch in batches),
        "agent_l": agent_l,
        "cost": bags * (stock.cement.price or 0) + agent_l * (stock.foaming_agent.price or 0) if priced else None,
        "thrown_away_l": math.fsum(batch.yield_l - batch.poured_l for batch in batches),
        "days_of_pouring": len({case.day_of(batch.start) for batch in batches}),
    }


def _same(written: object, right: float | None) -> bool:
    if right is None or not isinstance(written, Real):
        return written is right
    return near(float(written), right)


def _said(value: object) -> str:
    return figure(float(value)) if isinstance(value, Real) else "none" if value is None else str(value)


TOTALS: tuple[Rule, ...] = (plan_totals,)
