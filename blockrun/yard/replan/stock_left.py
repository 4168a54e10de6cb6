"""Stock from which a plan made anew goes on: what was there at the start, came, was counted, and is to come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.planner.begun.facts import BatchPoured, Coming, MaterialBegun
from blockrun.planner.supplies import SPECK, Supply, is_kept
from blockrun.planner.uses import AGENT, CEMENT
from blockrun.yard.journal.events import Counted, Delivered
from blockrun.yard.stock import stock_now

if TYPE_CHECKING:
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.replan.batches import Batches
    from blockrun.yard.replan.kept import Kept
    from blockrun.yard.stock import Books, InStock, Stock


def stock_left(
    plans: Sequence[Kept], site: Site, told: Sequence[Entry], batches: Batches, at: datetime
) -> dict[str, MaterialBegun]:
    """Materials as they were counted and came, by their names; none where nobody recorded any of that.

    Parameters
    ----------
    plans : made for the job, the one in hand first.
    site : of the plan to come.
    told : what stands of the journal until the moment, by the clock.
    batches : that were poured.
    at : the moment.
    """
    if not any(isinstance(entry.event, Counted | Delivered) for entry in told):
        return {}
    plan = replace(plans[0].as_planned, site=site)
    stock = stock_now(plan, told, at, [kept.as_planned for kept in plans[1:]])
    otherwise = {name: Supply(at.date(), amount) for name, amount in _otherwise(plans, site, batches, stock)}
    return {
        name: _begun(_with_otherwise(there.books, otherwise.get(name)), there)
        for name, there in stock.each.items()
        if is_kept(site.stock, name)
    }


def _begun(books: Books, there: InStock) -> MaterialBegun:
    return MaterialBegun(
        on_hand=books.on_hand,
        came=_comings((*books.came, *there.to_come)),
        found=_comings(books.found),
        missing=_comings(books.missing),
    )


def _otherwise(plans: Sequence[Kept], site: Site, batches: Batches, stock: Stock) -> Iterator[tuple[str, float]]:
    """What batches drew beyond what the plan to come has for them, or less: of one that no plan has nobody knows it."""
    bags = sum(batch.bags for batch in batches.poured)
    weighed_l = to_weigh_foam(site).agent_l
    agent_l = sum(_agent_l(plans, batch) + weighed_l for batch in batches.poured)
    in_tank_l = stock.in_tank_l * site.foam_generator.agent_share
    yield CEMENT, stock.each[CEMENT].books.drawn - bags
    yield AGENT, stock.each[AGENT].books.drawn - in_tank_l - agent_l


def _with_otherwise(books: Books, more: Supply | None) -> Books:
    """The books with what was drawn beyond what a plan knows as missing, or what was not drawn of it as found."""
    if more is None or abs(more.amount) < SPECK:
        return books
    if more.amount > 0:
        return replace(books, missing=(*books.missing, more))
    return replace(books, found=(*books.found, replace(more, amount=-more.amount)))


def _agent_l(plans: Sequence[Kept], batch: BatchPoured) -> float:
    """Agent that a batch took: as its plan has it, else by the bag as others of its mix."""
    rows = [kept.batches[batch.was] for kept in plans if kept.id == batch.plan and batch.was in kept.batches]
    alike = [row for kept in plans for row in kept.batches.values() if row.mix == batch.mix]
    return float(rows[0].agent_l) if rows else batch.bags * float(alike[0].agent_l / alike[0].bags) if alike else 0.0


def _comings(supplies: Iterable[Supply]) -> tuple[Coming, ...]:
    return tuple(
        Coming(day=one.day, amount=one.amount, lot=one.lot or None)
        for one in supplies
        if one.day is not None and one.amount > SPECK
    )
