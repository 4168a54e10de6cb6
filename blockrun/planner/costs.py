"""What the blocks of a plan cost in materials: in all, by the cubic metre and by the block. Water is not counted."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.mix.volume import LITRES_PER_M3
from blockrun.planner.supplies import materials_of
from blockrun.planner.uses import WATER, Use, uses_of
from blockrun.planner.wanted import wanted

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.supplies import Material


@dataclass(frozen=True)
class MarkCost:
    """Blocks of one mark and mix, spares among them, and what each costs."""

    mark: str
    mix: str
    blocks: int
    each: float


@dataclass(frozen=True)
class Costs:
    """What a plan's materials cost, in the currency of the prices.

    Parameters
    ----------
    volume_l : of those blocks, as cast, without overfill.
    marks : what a block of each mark costs; all of them together cost as much as all materials.
    """

    by_material: Mapping[str, float]
    blocks: int
    volume_l: float
    marks: tuple[MarkCost, ...]

    @property
    def total(self) -> float:
        """All materials together."""
        return math.fsum(self.by_material.values())

    @property
    def a_block(self) -> float:
        """Of one block, all sizes together."""
        return self.total / self.blocks

    @property
    def a_m3(self) -> float:
        """Of one cubic metre of blocks: what is struck off, left in the drum and thrown away is paid for by them."""
        return self.total / self.volume_l * LITRES_PER_M3


def without_price(materials: Iterable[Material]) -> tuple[str, ...]:
    """Materials that have no price, water left out."""
    return tuple(material.name for material in materials if material.price is None and material.name != WATER)


def total_cost(plan: Plan) -> float | None:
    """What all materials of a plan cost that have a price; None unless cement and foaming agent both have one."""
    stock = plan.site.stock
    if stock.cement.price is None or stock.foaming_agent.price is None:
        return None
    uses = uses_of(plan)
    prices = {material.name: material.price or 0.0 for material in materials_of(plan.site, uses, plan.begun)}
    return round(math.fsum(use.amount * prices[use.material] for use in uses), 2)


def costs_of(plan: Plan, uses: Sequence[Use], materials: Iterable[Material]) -> Costs:
    """What the blocks of a plan cost.

    Parameters
    ----------
    materials : the same, with their prices; one without a price counts as nothing, see :func:`without_price`.

    Returns
    -------
    Costs. What a mix costs is shared out over its blocks by their volume, what is of no mix over all blocks.
    """
    prices = {material.name: material.price or 0.0 for material in materials}
    by_material: dict[str, float] = defaultdict(float)
    by_mix: dict[str, float] = defaultdict(float)
    for use in uses:
        cost = use.amount * prices[use.material]
        by_mix[use.mix] += cost
        if use.material != WATER:
            by_material[use.material] += cost
    litres = {(line.mark, line.mix): line.volume_l for line in wanted(plan.site, plan.order)}
    casts = Counter(zip(plan.tables.casts["mark"], plan.tables.casts["mix"], strict=True))
    volume_l = math.fsum(n * litres[mark] for mark, n in casts.items())
    of_mix: dict[str, float] = defaultdict(float)
    for (mark, mix), n in casts.items():
        of_mix[mix] += n * litres[mark, mix]
    marks = tuple(
        MarkCost(mark, mix, n, litres[mark, mix] * (by_mix[mix] / of_mix[mix] + by_mix[""] / volume_l))
        for (mark, mix), n in sorted(casts.items())
    )
    return Costs(dict(by_material), sum(casts.values()), volume_l, marks)
