"""Stock as it was recorded: what is left of each material at a moment, and what is still to come."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.planner.supplies import SPECK, Supply, supplies_of
from blockrun.planner.uses import OIL, ORDER, WATER
from blockrun.yard.journal.events import Counted, Delivered, Poured

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.site import Site
    from blockrun.yard.journal import Entry

EARLY: Final = timedelta(days=3)
"""What comes no sooner than this before a delivery that the site plans is that delivery (our choice)."""


_CALLED: Final = {"oil": OIL}
"""What the journal calls by another name than a plan does."""


@dataclass(frozen=True)
class InStock:
    """What is left of one material, in its unit of `blockrun.planner.uses.UNITS`.

    Attributes
    ----------
    amount : left; under nought where more was drawn than anybody recorded to be there.
    counted : when somebody counted it last; None where nobody did.
    untold : deliveries that the site plans until then, or what is missing of them, and that nobody recorded.
    believed : ``untold`` is taken to have come and counts in ``amount``: of this material nobody recorded anything,
        so that its deliveries are not kept, and the site's word is the best there is.
    to_come : deliveries that the site plans later, or what is missing of them.
    """

    amount: float
    counted: datetime | None = None
    untold: tuple[Supply, ...] = ()
    believed: bool = False
    to_come: tuple[Supply, ...] = ()


@dataclass(frozen=True)
class Stock:
    """What is left of all that the site keeps in stock.

    Attributes
    ----------
    each : by the name of the material, in the order in which these are measured.
    unknown : pours of which no plan that is there tells what they took; nothing is drawn for them.
    """

    each: dict[str, InStock]
    unknown: tuple[Entry, ...] = ()


def stock_now(plan: AsPlanned, entries: Iterable[Entry], at: datetime, older: Iterable[AsPlanned] = ()) -> Stock:
    """What is left of each material at a moment, by all that was recorded until then.

    At the start of the plan's calendar what the site has on hand is there. From then on what is recorded as delivered
    is added; each batch poured, and each time it is poured, draws what its plan has for it with the bucket of foam
    weighed before it, and each turn its oil; a count by hand overrules all before it. Agent in a tank is still agent.

    Parameters
    ----------
    plan : whose site says what was on hand and what is to come.
    entries : those that stand, in the order in which they happened (`blockrun.yard.journal.standing`). Those before
        the first day of the calendar are not heeded, but for batches of this plan that were poured sooner.
    at : the moment.
    older : plans made before, whose batches may have been poured. A batch of none of them draws what others of its mix
        take, by the number of their blocks.

    Raises
    ------
    BadPlan : batches of one of the plans cannot be read.
    """
    draws = _Draws(plan, older)
    records: defaultdict[str, _Record] = defaultdict(_Record)
    unknown: list[Entry] = []
    for entry in _heeded(plan, entries, at):
        event = entry.event
        if isinstance(event, Delivered):
            records[_named(event)].deliver(entry.happened.date(), event.amount)
        elif isinstance(event, Counted):
            records[_named(event)].count(entry.happened, event.amount)
        elif isinstance(event, Poured):
            taken = draws.of(event)
            unknown += [entry] if taken is None else []
            for name, amount in (taken or {}).items():
                records[name].more -= amount
    kept = [name for name in ORDER if supplies_of(plan.site.stock, name) or records[name].counted]
    return Stock({name: _in_stock(name, plan.site, records[name], at) for name in kept}, tuple(unknown))


def _named(event: Delivered | Counted) -> str:
    return _CALLED.get(event.material, event.material)


def _heeded(plan: AsPlanned, entries: Iterable[Entry], at: datetime) -> Iterator[Entry]:
    start, own = plan.site.calendar.start, {plan.recorded_as(number) for number in plan.batches}
    for entry in entries:
        is_own = isinstance(event := entry.event, Poured) and (event.plan, event.batch) in own
        if entry.happened <= at and (entry.happened.date() >= start or is_own):
            yield entry


@dataclass
class _Record:
    """What was recorded of one material.

    Attributes
    ----------
    counted, base : when it was counted last, and how much there was; None while nobody did.
    more : what came since, less what was drawn.
    delivered : all that ever came, by day.
    """

    counted: datetime | None = None
    base: float | None = None
    more: float = 0.0
    delivered: list[tuple[date, float]] = field(default_factory=list)

    def deliver(self, day: date, amount: float) -> None:
        self.more += amount
        self.delivered.append((day, amount))

    def count(self, at: datetime, amount: float) -> None:
        self.counted, self.base, self.more = at, amount, 0.0

    def saw(self, opening: datetime) -> bool:
        """Whether whoever counted saw if a delivery had come."""
        return self.counted is not None and opening <= self.counted


def _in_stock(name: str, site: Site, record: _Record, at: datetime) -> InStock:
    """The site's word and the record together."""
    supplies = supplies_of(site.stock, name)
    on_hand = _sum(supply for supply in supplies if supply.day is None)
    there = (on_hand if record.base is None else record.base) + record.more
    open_yet = _open([supply for supply in supplies if supply.day is not None], record.delivered)
    due = [supply for supply in open_yet if _opening(site, supply) <= at]
    untold = tuple(supply for supply in due if not record.saw(_opening(site, supply)))
    believed = bool(untold) and record.counted is None and not record.delivered
    there += _sum(untold) if believed else 0.0
    return InStock(there, record.counted, untold, believed, tuple(one for one in open_yet if one not in due))


def _sum(supplies: Iterable[Supply]) -> float:
    return math.fsum(supply.amount for supply in supplies)


def _opening(site: Site, supply: Supply) -> datetime:
    """From when on a planned delivery is there."""
    assert supply.day is not None
    return datetime.combine(supply.day, time()) + timedelta(minutes=site.calendar.open_min)


def _open(planned: Sequence[Supply], delivered: Iterable[tuple[date, float]]) -> list[Supply]:
    """What of planned deliveries no record covers: each is for the first that are open and due, or nearly."""
    left = list(planned)
    for day, amount in delivered:
        for index, one in enumerate(left):
            assert one.day is not None
            covered = min(one.amount, amount) if one.day - EARLY <= day else 0.0
            left[index] = replace(one, amount=one.amount - covered)
            amount -= covered
    return [one for one in left if one.amount > SPECK]


Amounts = dict[str, float]
"""By material, water left out: there is always some."""


class _Draws:
    """What batches that were poured take, by their plans."""

    def __init__(self, plan: AsPlanned, older: Iterable[AsPlanned]) -> None:
        oil = plan.site.stock.release_oil
        self._oil_l = oil.per_turn_l if oil else 0.0
        self._batches: dict[tuple[str, int], Amounts] = {}
        self._a_block: dict[str, Amounts] = {}
        for one in (*older, plan):  # the newest last: what it says of a mix counts for batches that nobody knows
            self._add(one)

    def of(self, event: Poured) -> Amounts | None:
        """What a pour took; None where no plan knows the batch, or its mix."""
        taken = self._batches.get((event.plan, event.batch)) or self._as_others(event)
        turns = len({fill.base or fill.mould for fill in event.filled})
        return None if taken is None else {**taken, OIL: self._oil_l * turns}

    def _as_others(self, event: Poured) -> Amounts | None:
        a_block = self._a_block.get(event.mix)
        blocks = sum(bool(mark) for fill in event.fills for mark in fill.marks)
        return a_block and {name: amount * blocks for name, amount in a_block.items()}

    def _add(self, plan: AsPlanned) -> None:
        used: defaultdict[str, defaultdict[str, float]] = defaultdict(lambda: defaultdict(float))
        blocks: defaultdict[str, int] = defaultdict(int)
        for number, uses in plan.uses.items():
            taken: defaultdict[str, float] = defaultdict(float)
            for use in uses:
                if use.material != WATER:
                    taken[use.material] += use.amount
                    used[use.mix][use.material] += use.amount
            self._batches[plan.recorded_as(number)] = taken
            blocks[uses[0].mix] += len(plan.batches.get(number, ()))
        self._a_block |= {
            mix: {name: all_of / blocks[mix] for name, all_of in used[mix].items()} for mix in used if blocks[mix]
        }
