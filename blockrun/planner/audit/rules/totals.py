"""The rule on the totals of a plan."""

from __future__ import annotations

import math
from collections.abc import Iterator
from numbers import Real
from typing import Final

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.cost import Cost, cost_of
from blockrun.planner.audit.figures import PRINTED, figure, near
from blockrun.planner.audit.finding import Rule, Said


def plan_totals(case: Case) -> Iterator[Said]:
    """Total blocks, batches and materials rightly; a plan without totals is not judged by them."""
    if case.totals is None:
        return
    for name, right in totals_of(case).items():
        written = case.totals.get(name, "missing")
        if not _same(written, right):
            yield f"totals {name}", _differs(name, written, _said(right))
    cost, written = cost_of(case), case.totals.get("cost", "missing")
    if not _may_cost(written, cost):
        yield "totals cost", _differs("cost", written, _cost_said(cost))


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


def totals_of(case: Case) -> dict[str, float]:
    """Work the totals out again.

    Returns
    -------
    ``blocks`` are those ordered, ``spares`` those cast on top; ``thrown_away_l`` is what batches make less what is
    poured into cavities. Water and agent have in them the bucket of foam that is weighed before each batch. The cost
    is looked at apart: `blockrun.planner.audit.cost`.
    """
    batches, weighed = list(case.batches.values()), to_weigh_foam(case.site)
    n_spares = sum(cast.spare for cast in case.records.casts)
    bags, agent_l = (
        math.fsum(batch.bags for batch in batches),
        math.fsum(batch.agent_l + weighed.agent_l for batch in batches),
    )
    return {
        "blocks": len(case.records.casts) - n_spares,
        "spares": n_spares,
        "batches": len(batches),
        "cement_kg": math.fsum(batch.cement_kg for batch in batches),
        "cement_bags": bags,
        "water_kg": math.fsum(batch.water_kg + weighed.water_l for batch in batches),
        "agent_l": agent_l,
        "thrown_away_l": math.fsum(batch.yield_l - batch.poured_l for batch in batches),
        "days_of_pouring": len({case.day_of(batch.start) for batch in batches}),
    }


def _same(written: object, right: float) -> bool:
    return isinstance(written, Real) and near(float(written), right)


def _may_cost(written: object, cost: Cost | None) -> bool:
    if cost is None or not isinstance(written, Real):
        return written is cost
    said = float(written)
    return cost.least - PRINTED <= said <= cost.most + PRINTED


def _cost_said(cost: Cost | None) -> str:
    if cost is None:
        return _said(None)
    least, most = _said(cost.least), _said(cost.most)
    return least if least == most else f"{least} to {most}"


def _differs(name: str, written: object, right: str) -> str:
    return f"in all, {_WORDS[name]}: {_said(written)} is said, but the plan gives {right}"


def _said(value: object) -> str:
    return figure(float(value)) if isinstance(value, Real) else "none" if value is None else str(value)


TOTALS: tuple[Rule, ...] = (plan_totals,)
