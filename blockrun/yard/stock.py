"""Stock as it was recorded: what is left of each material at a moment, of which lots, and what is still to come."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.planner.supplies import SPECK, Supply, supplies_of
from blockrun.planner.uses import AGENT, CEMENT, OIL, ORDER
from blockrun.yard.drawn import drawn_of
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
class Books:
    """How what is left of a material came to be that, in its unit.

    Attributes
    ----------
    on_hand : at the start of the calendar.
    came : each delivery on its day, those believed among them.
    found, missing : what counts had more and less than the books, on their days.
    drawn : by all batches and turns.
    """

    on_hand: float = 0.0
    came: tuple[Supply, ...] = ()
    found: tuple[Supply, ...] = ()
    missing: tuple[Supply, ...] = ()
    drawn: float = 0.0


@dataclass(frozen=True)
class InStock:
    """What is left of one material, in its unit of `blockrun.planner.uses.UNITS`.

    Attributes
    ----------
    lots : what is left, in the order in which it is used; without a day what was there at the start or is begun.
    counted : when somebody counted it last; None where nobody did.
    untold : deliveries that the site plans until then, or what is missing of them, and that nobody recorded.
    believed : ``untold`` is taken to have come and counts in ``lots``: of this material nobody recorded anything,
        so that its deliveries are not kept, and the site's word is the best there is.
    to_come : deliveries that the site plans later, or what is missing of them.
    books : how it came to be.
    """

    lots: tuple[Supply, ...]
    counted: datetime | None = None
    untold: tuple[Supply, ...] = ()
    believed: bool = False
    to_come: tuple[Supply, ...] = ()
    books: Books = Books()

    @property
    def amount(self) -> float:
        """Left in all; under nought where more was drawn than anybody recorded to be there."""
        return _sum(self.lots)


@dataclass(frozen=True)
class Stock:
    """What is left of all that the site keeps in stock.

    Attributes
    ----------
    each : by the name of the material, in the order in which these are measured; cement and agent whatever there is.
    unknown : pours of which no plan that is there tells what they took; nothing is drawn for them.
    in_tank_l : dilution that stands in the tank, litres; its agent is no more in the can.
    """

    each: dict[str, InStock]
    unknown: tuple[Entry, ...] = ()
    in_tank_l: float = 0.0


def stock_now(plan: AsPlanned, entries: Iterable[Entry], at: datetime, older: Iterable[AsPlanned] = ()) -> Stock:
    """What is left of each material at a moment, by all that was recorded until then.

    At the start of the plan's calendar what the site has on hand is there. From then on what is recorded as delivered
    is added; each batch poured, and each time it is poured, draws what its plan has for it with the bucket of foam
    weighed before it, and each turn its oil; a count by hand overrules all before it. Agent is what is in its can:
    what was filled into a tank is drawn.

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
    told = list(_heeded(plan, entries, at))
    drawn = drawn_of(plan, told, older)
    pours = iter(drawn.pours)
    records = {name: _Record(plan.site, supplies_of(plan.site.stock, name)) for name in ORDER}
    unknown: list[Entry] = []
    for entry in told:
        event = entry.event
        if isinstance(event, Delivered):
            records[_named(event)].deliver(entry.happened.date(), event.amount, event.lot)
        elif isinstance(event, Counted):
            records[_named(event)].count(entry.happened, event.amount)
        elif isinstance(event, Poured):
            taken = next(pours)
            unknown += [entry] if taken is None else []
            for name, amount in (taken or {}).items():
                records[name].draw(amount)
    kept = [name for name, one in records.items() if name in (CEMENT, AGENT) or one.planned or one.counted]
    return Stock({name: records[name].in_stock(at) for name in kept}, tuple(unknown), drawn.in_tank_l)


def _named(event: Delivered | Counted) -> str:
    return _CALLED.get(event.material, event.material)


def _heeded(plan: AsPlanned, entries: Iterable[Entry], at: datetime) -> Iterator[Entry]:
    start, own = plan.site.calendar.start, {plan.recorded_as(number) for number in plan.batches}
    for entry in entries:
        is_own = isinstance(event := entry.event, Poured) and (event.plan, event.batch) in own
        if entry.happened <= at and (entry.happened.date() >= start or is_own):
            yield entry


_HALF: Final = 0.5


class _Record:
    """What was recorded of one material.

    Attributes
    ----------
    planned : on hand at the start, then what comes, as the site has it.
    lots : what is there, in the order in which it is used. Only one that stands alone may be under nought.
    counted : when it was counted last; None while nobody did.
    open : of planned deliveries, what no record covers.
    books : what came, was found, missed and drawn so far.
    """

    def __init__(self, site: Site, planned: Sequence[Supply]) -> None:
        self.site, self.planned = site, planned
        self.lots = [supply for supply in planned if supply.day is None]
        self.open = [supply for supply in planned if supply.day is not None]
        self.counted: datetime | None = None
        self.is_delivered = False
        self.books = Books(_sum(self.lots))

    def draw(self, amount: float) -> None:
        """Take from the oldest on; a lot that is gone is kept until the next is begun."""
        self.books = replace(self.books, drawn=self.books.drawn + amount)
        while len(self.lots) > 1 and amount > self.lots[0].amount + SPECK:
            amount -= self.lots.pop(0).amount
        first = self.lots.pop(0) if self.lots else Supply(None, 0.0)
        self.lots.insert(0, replace(first, day=None, amount=first.amount - amount))

    def deliver(self, day: date, amount: float, lot: str) -> None:
        """Add what came; where nobody told its lot, it is of the one that was to come."""
        self.is_delivered = True
        lot = lot or next((one.lot for one in self.open if _is_for(one, day)), "")
        self._came(Supply(day, amount, lot))
        owed = min(amount, max(0.0, -_sum(self.lots)))
        if owed:
            self.lots[0] = replace(self.lots[0], amount=self.lots[0].amount + owed)
        self.lots += [Supply(day, amount - owed, lot)] if amount > owed else []
        self.open = list(_still_open(self.open, day, amount))

    def count(self, at: datetime, amount: float) -> None:
        """Have so much: what is missing is of the oldest lots, what is over came last.

        So another lot is begun rather too soon than too late by the plan, and the trial before it is not missed.
        """
        owed, day = max(0.0, -_sum(self.lots)), at.date()
        self.counted, self.lots = at, [replace(lot, amount=max(0.0, lot.amount)) for lot in self.lots]
        over = amount - _sum(self.lots)
        if over < -SPECK:
            self.books = replace(self.books, missing=(*self.books.missing, Supply(day, -over)))
        for index, lot in enumerate(self.lots):
            less = min(lot.amount, max(0.0, -over))
            self.lots[index], over = replace(lot, amount=lot.amount - less), over + less
        for one in self.open:
            # less than half of a delivery is a slip of the count before, and none of it came (our choice)
            if _opening(self.site, one) <= at and over >= _HALF * one.amount:
                self.lots.append(replace(one, amount=min(over, one.amount)))
                self._came(self.lots[-1])
                over -= self.lots[-1].amount
        if over + owed > SPECK:
            found = Supply(day, max(0.0, over) + owed, self.lots[-1].lot if self.lots else "")
            self.books = replace(self.books, found=(*self.books.found, found))
        if over > 0:
            last = self.lots.pop() if self.lots else Supply(None, 0.0)
            self.lots.append(replace(last, amount=last.amount + over))

    def _came(self, supply: Supply) -> None:
        self.books = replace(self.books, came=(*self.books.came, supply))

    def in_stock(self, at: datetime) -> InStock:
        """The site's word and the record together."""
        due = [supply for supply in self.open if _opening(self.site, supply) <= at]
        untold = tuple(supply for supply in due if not self._saw(_opening(self.site, supply)))
        believed = bool(untold) and self.counted is None and not self.is_delivered
        to_come = tuple(supply for supply in self.open if supply not in due)
        lots = (*self.lots, *untold) if believed else tuple(self.lots)
        books = replace(self.books, came=(*self.books.came, *(untold if believed else ())))
        return InStock(lots, self.counted, untold, believed, to_come, books)

    def _saw(self, opening: datetime) -> bool:
        """Whether whoever counted saw if a delivery had come."""
        return self.counted is not None and opening <= self.counted


def _sum(supplies: Iterable[Supply]) -> float:
    return math.fsum(supply.amount for supply in supplies)


def _opening(site: Site, supply: Supply) -> datetime:
    """From when on a planned delivery is there."""
    assert supply.day is not None
    return datetime.combine(supply.day, time()) + timedelta(minutes=site.calendar.open_min)


def _is_for(planned: Supply, day: date) -> bool:
    """Whether what came on a day may be what was planned."""
    assert planned.day is not None
    return planned.day - EARLY <= day


def _still_open(planned: Iterable[Supply], day: date, amount: float) -> Iterator[Supply]:
    """What stays of planned deliveries: what came is for the first that are due, or nearly."""
    for one in planned:
        covered = min(one.amount, amount) if _is_for(one, day) else 0.0
        amount -= covered
        if one.amount - covered > SPECK:
            yield replace(one, amount=one.amount - covered)
