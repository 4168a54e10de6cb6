"""What the materials of a plan cost, worked out again; a material without a price counts as nothing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.mix.proportions import SAND

if TYPE_CHECKING:
    from blockrun.planner.audit.case import Case


@dataclass(frozen=True)
class Cost:
    """What a plan may say that it costs.

    Attributes
    ----------
    least, most : all materials; apart where filler moulds are oiled, an extra of which a plan's tables say nothing.
    """

    least: float
    most: float


def cost_of(case: Case) -> Cost | None:
    """All materials with a price, foam weighed before each batch among them; None unless cement and agent have one."""
    stock = case.site.stock
    if stock.cement.price is None or stock.foaming_agent.price is None:
        return None
    weighed_l = to_weigh_foam(case.site).agent_l
    drawn = math.fsum(
        batch.bags * stock.cement.price + (batch.agent_l + weighed_l) * stock.foaming_agent.price
        for batch in case.batches.values()
    )
    least = drawn + _solids(case) + len({(cast.mould, cast.turn) for cast in case.records.casts}) * _a_turn(case)
    fillers = sum(kind.count for kind in case.site.moulds if kind.filler)
    return Cost(least, least + len(case.batches) * fillers * _a_turn(case))


def _solids(case: Case) -> float:
    """What goes in beside the cement, sand as damp as it is bought."""
    stock = case.site.stock
    kept = {SAND: stock.sand, "fly ash": stock.fly_ash, "lime": stock.lime, "fibre": stock.fibre}
    prices = {name: (one.price or 0.0) if one else 0.0 for name, one in kept.items()}
    prices[SAND] *= 1 + stock.sand_moisture
    of_mix = {}
    for mix in {batch.row.mix for batch in case.batches.values()}:
        made = case.proportions(mix)
        of_mix[mix] = math.fsum(kg * prices[name] for name, kg in made.further.items()) / made.cement_kg
    return math.fsum(batch.cement_kg * of_mix[batch.row.mix] for batch in case.batches.values())


def _a_turn(case: Case) -> float:
    """What the release oil of one mould costs."""
    oil = case.site.stock.release_oil
    return oil.per_turn_l * (oil.price or 0.0) if oil else 0.0
