"""From which batch on cement or foaming agent is of another lot: a trial is to come before it.

What came first is used first, as in :mod:`blockrun.planner.supplies`. Where lots are not named, each delivery may be
another one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.mix.dilution import tank_of
from blockrun.planner.rows import Row, rows_of
from blockrun.planner.supplies import Supply, missing_of, supplies_of
from blockrun.planner.uses import AGENT, CEMENT, tank_fills

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan

_SPECK: Final = 1e-3
"""Less than this of a bag or a litre is rounding: tables keep six decimals a batch."""


@dataclass(frozen=True)
class Draw:
    """What a batch takes of a material."""

    batch: int
    day: date
    amount: float


@dataclass(frozen=True)
class NewLot:
    """A supply that is, or may be, of a lot that no batch before has drawn.

    Parameters
    ----------
    material : cement or foaming agent.
    supply : of which the batch is the first to draw.
    batch, day : that batch, and when it is made.
    is_sure : whether it is another lot for certain; else none but the yard can tell.
    """

    material: str
    supply: Supply
    batch: int
    day: date
    is_sure: bool


def new_lots(plan: Plan) -> list[NewLot]:
    """Every batch of a plan that is the first to draw cement or foaming agent of a new lot, in their order.

    Parameters
    ----------
    plan : its batches, and the stock of its site.

    Returns
    -------
    One for each new lot. What is on hand at the start is known, and what counts found; what comes is known only by the
    name of its lot.
    """
    found: list[NewLot] = []
    for material, draws in ((CEMENT, _bags(plan)), (AGENT, _agent(plan))):
        supplies, missing = supplies_of(plan.site.stock, material, plan.begun), missing_of(plan.begun, material)
        found += lots_drawn(material, supplies, _with_missing(draws, missing))
    return sorted(found, key=lambda new: (new.day, new.batch))


def _bags(plan: Plan) -> list[Draw]:
    return [Draw(row.batch, row.start.date(), row.bags) for row in _in_order(plan)]


def _agent(plan: Plan) -> list[Draw]:
    """By the batch, the foam weighed before it among it; of a tank, by the batch before which it is filled."""
    tank = tank_of(plan.site.foam_generator)
    if tank is None:
        weighed_l = to_weigh_foam(plan.site).agent_l
        return [Draw(row.batch, row.start.date(), weighed_l + row.agent_l) for row in _in_order(plan)]
    filled = tank_fills(plan, tank)
    return [Draw(row.batch, row.start.date(), sum(fills) * tank.agent_share) for row, fills in filled]


def _with_missing(draws: Sequence[Draw], missing: Mapping[date, float]) -> list[Draw]:
    """The draws, each with what counts missed since the one before: it is gone, too."""
    left = dict(missing)
    found = []
    for draw, following in zip(draws, [*draws[1:], None], strict=True):
        until = [day for day in left if following is None or day < following.day]
        found.append(replace(draw, amount=draw.amount + sum(left.pop(day) for day in until)))
    return found


def _in_order(plan: Plan) -> list[Row]:
    return sorted(rows_of(plan.tables.batches), key=lambda row: (row.start, row.batch))


def lots_drawn(material: str, supplies: Iterable[Supply], draws: Sequence[Draw]) -> Iterator[NewLot]:
    """The supplies whose lot is, or may be, new, each with the first batch that draws of it.

    Parameters
    ----------
    material : whose they are.
    supplies, draws : each in the order in which they are used and made.
    """
    before, drawn = 0.0, set[str]()
    for supply in supplies:
        first = _first_beyond(before, draws, supply.day or date.min)
        if first is None:
            return
        is_known = supply.day is None or supply.found or (supply.lot != "" and supply.lot in drawn)
        if not is_known:
            is_sure = supply.lot != "" and bool(drawn) and "" not in drawn
            yield NewLot(material, supply, first.batch, first.day, is_sure)
        drawn.add(supply.lot)
        before += supply.amount


def _first_beyond(amount: float, draws: Sequence[Draw], since: date) -> Draw | None:
    """The draw with which more than so much has been drawn; what runs short is drawn of nothing before more comes."""
    total = 0.0
    for draw in draws:
        total += draw.amount
        if total > amount + _SPECK and draw.day >= since:
            return draw
    return None
