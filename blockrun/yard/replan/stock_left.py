"""Stock from which a plan made anew goes on: what is left of which lot, what came, and what is to come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING, Self

from blockrun.planner.begun.facts import BatchPoured, Coming, StockBegun
from blockrun.planner.supplies import SPECK, Supply
from blockrun.planner.uses import AGENT, CEMENT
from blockrun.yard.journal.events import Counted, Delivered
from blockrun.yard.stock import stock_now

if TYPE_CHECKING:
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.replan.batches import Batches
    from blockrun.yard.replan.kept import Kept
    from blockrun.yard.stock import InStock


def stock_left(
    plans: Sequence[Kept], site: Site, told: Sequence[Entry], batches: Batches, at: datetime
) -> StockBegun | None:
    """Cement and agent as they were counted and came; None where nobody recorded any of that.

    Parameters
    ----------
    plans : made for the job, the one in hand first.
    site : of the plan to come.
    told : what stands of the journal until the moment, by the clock.
    batches : that were poured.
    at : the moment.
    """
    if not any(isinstance(entry.event, Counted | Delivered) for entry in told):
        return None
    plan = replace(plans[0].as_planned, site=site)
    stock = stock_now(plan, told, at, [kept.as_planned for kept in plans[1:]])
    cement = _Left.of(stock.each[CEMENT], site.stock.cement.lot, sum(batch.bags for batch in batches.poured))
    agent = _Left.of(
        stock.each[AGENT], site.stock.foaming_agent.lot, sum(_agent_l(plans, batch) for batch in batches.poured)
    )
    return StockBegun(
        cement_bags=cement.on_hand,
        cement_lot=cement.lot,
        cement=cement.coming,
        agent_l=agent.on_hand,
        agent_lot=agent.lot,
        agent=agent.coming,
    )


@dataclass(frozen=True)
class _Left:
    """One material, as `StockBegun` has it."""

    on_hand: float
    lot: str | None
    coming: tuple[Coming, ...]

    @classmethod
    def of(cls, there: InStock, site_lot: str | None, drawn: float) -> Self:
        """What is left of a material of which past batches have drawn so much: all of that of the lot begun last."""
        begun, came = (there.lots[0], there.lots[1:]) if _is_begun(there) else (Supply(None, 0.0), there.lots)
        lot = None if begun.lot == (site_lot or "") else begun.lot
        return cls(begun.amount + drawn, lot, tuple(_coming((*came, *there.to_come))))


def _is_begun(there: InStock) -> bool:
    return bool(there.lots) and there.lots[0].day is None


def _agent_l(plans: Sequence[Kept], batch: BatchPoured) -> float:
    """Agent that a batch took: as its plan has it, else by the bag as others of its mix."""
    rows = [kept.batches[batch.was] for kept in plans if kept.id == batch.plan and batch.was in kept.batches]
    alike = [row for kept in plans for row in kept.batches.values() if row.mix == batch.mix]
    return float(rows[0].agent_l) if rows else batch.bags * float(alike[0].agent_l / alike[0].bags) if alike else 0.0


def _coming(supplies: Iterable[Supply]) -> Iterator[Coming]:
    return (
        Coming(day=one.day, amount=one.amount, lot=one.lot or None)
        for one in supplies
        if one.day is not None and one.amount > SPECK
    )
