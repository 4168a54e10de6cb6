"""All that had happened by a moment, for a plan that is made anew then."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.order import takeoff
from blockrun.planner.begun.facts import Air, Begun, Some
from blockrun.planner.saw_numbers import saw_plans_before
from blockrun.yard.absent import stretches_away
from blockrun.yard.journal import standing
from blockrun.yard.journal.events import PersonAway
from blockrun.yard.now import UNKNOWN, state_of
from blockrun.yard.replan.batches import Batches, batches_poured
from blockrun.yard.replan.lost import with_lost
from blockrun.yard.replan.ordered_still import (
    check_ordered_still,
    check_parts_still,
    check_racks_still,
    left_of_former,
)
from blockrun.yard.replan.spares import spares_to_have
from blockrun.yard.replan.stock_left import stock_left
from blockrun.yard.replan.turns import turns_begun
from blockrun.yard.replan.waiting import Waiting

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import State
    from blockrun.yard.replan.kept import Kept


def happened(
    plans: Sequence[Kept],
    entries: Iterable[Entry],
    at: datetime,
    number: int,
    after: int,
    asked: tuple[Site, Order] | None = None,
) -> Begun:
    """What had happened.

    Parameters
    ----------
    plans : made for the job, the one in hand first.
    entries : of the journal; what is recorded as later is not heeded.
    at : the moment.
    number, after : of the plan to come, and of the one in hand.
    asked : the site and the order to come, where they are not those of the plan in hand.

    Raises
    ------
    BadInput : something was poured before the first day of the calendar, or by its thumbs never gets old enough; or
        the order or the site to come is without blocks that were cast, or what they were laid in or lie on.
    """
    site, order = asked or (plans[0].as_planned.site, plans[0].plan.order)
    told = [entry for entry in standing(entries) if entry.happened <= at]
    state = state_of(told)
    batches = batches_poured(told, plans)
    _check_start(batches, site)
    waiting = Waiting(replace(plans[0].as_planned, site=site), state, at)
    turns = tuple(turns_begun(state, batches.numbers, plans, at, _to_fill(site, state), waiting))
    lines = takeoff(order, site.calendar, site.moulds)
    check_ordered_still(turns, lines, plans)
    check_parts_still(state.laid, lines)
    check_racks_still(state.racks, site)
    return Begun(
        since=at,
        number=number,
        after=after,
        batches=tuple(with_lost(batches, turns, told, plans, site)),
        turns=turns,
        spares=spares_to_have(order.spares, lines, state, left_of_former(turns, lines, plans)),
        found=tuple(_found(state)),
        lost=tuple(sorted(state.lost)),
        away=tuple(sorted(_away(told).items())),
        out_of_use=tuple(sorted(state.out_of_use)),
        air=tuple(Air(day=day, min_c=one.min_degc, max_c=one.max_degc) for day, one in sorted(state.air.items())),
        recorded=stock_left(plans, site, told, batches, at),
        saw_plans=saw_plans_before(plans[0].plan.tables, plans[0].plan.begun),
    )


def _to_fill(site: Site, state: State) -> frozenset[str]:
    """Moulds and bases of a site that may be filled."""
    names = {name for kind in site.moulds for name in (*kind.mould_names, *kind.base_names)}
    return frozenset(names - state.out_of_use.keys())


def _check_start(batches: Batches, site: Site) -> None:
    first, start = min((batch.poured for batch in batches.poured), default=None), site.calendar.start
    if first is not None and first.date() < start:
        what = f"a batch was poured {first:%Y-%m-%d %H:%M}, and the calendar of the site starts on {start}"
        raise BadInput(what, f"Write start: {first:%Y-%m-%d} in a copy of the site, and give it with --site.")


def _found(state: State) -> Iterator[Some]:
    """Good blocks of which nobody knows the batch."""
    counts: Counter[tuple[str, str]] = Counter()
    for places in (state.out, state.racks, state.stacks, state.laid):
        for pile in places.values():
            for kind, lot in pile.lots():
                counts[kind] += lot.n_blocks if lot.batch == UNKNOWN else 0
    yield from ((*kind, count) for kind, count in sorted(counts.items()) if count)


def _away(entries: Iterable[Entry]) -> Counter[date]:
    """People away, by day, as recorded."""
    away = [entry.event for entry in entries if isinstance(entry.event, PersonAway)]
    found: Counter[date] = Counter()
    for first, last, people in stretches_away(away):
        found |= Counter({first + timedelta(days=nth): people for nth in range((last - first).days + 1)})
    return found
