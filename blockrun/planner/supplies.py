"""What is on hand and what comes of each material, held against what is used: until when it lasts, what to order when.

What came first is used first. The plan itself waits for cement, and for the foaming agent of its foam; agent for foam
that is weighed, oil and what else goes into a mix may run short, and are then said to.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import accumulate
from typing import TYPE_CHECKING, Final

from blockrun.planner.uses import AGENT, CEMENT, OIL, ORDER, SOLIDS, Use
from blockrun.site import Cement, FoamingAgent, ReleaseOil, Solid
from blockrun.units import MINUTES_A_DAY

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import Begun
    from blockrun.site import Calendar, Site, Stock

Kept = Cement | FoamingAgent | ReleaseOil | Solid

KEPT_IN_HAND: Final = 0.05
"""A share of what is used: with less than that to spare, stock is not called enough (our choice). It is for what nobody
plans: foam added to a mix too heavy, a batch thrown away, a spill."""

SPECK: Final = 1e-3
"""Less than this of a bag, a litre or a kilogram is rounding: tables keep six decimals a batch."""


@dataclass(frozen=True)
class Supply:
    """So much of one lot ("" if not told) that is there at the start (no day) or comes on a day, before opening.

    One that is ``found`` did not come: a count had so much more than the books.
    """

    day: date | None
    amount: float
    lot: str = ""
    found: bool = False


@dataclass(frozen=True)
class Material:
    """One material of a plan, in its unit of :data:`blockrun.planner.uses.UNITS`.

    Parameters
    ----------
    name : what it is.
    used : by day, days ascending.
    supplies : what is on hand, then what comes, by day; empty where the site does not count it.
    price : of one unit, or None.
    lead_days : from the order to the day it is there, or None.
    weighed : of what is used, what goes into foam that is weighed and thrown away, by day.
    missing : what counts had less than the books, by day.
    """

    name: str
    used: dict[date, float]
    supplies: tuple[Supply, ...] = ()
    price: float | None = None
    lead_days: int | None = None
    weighed: dict[date, float] = field(default_factory=dict)
    missing: dict[date, float] = field(default_factory=dict)

    @property
    def total(self) -> float:
        """All that is used or missing."""
        return math.fsum(self._gone.values())

    def gone_up_to(self, day: date) -> float:
        """What is used or missing until the evening of a day."""
        return math.fsum(amount for when, amount in self._gone.items() if when <= day)

    @property
    def _gone(self) -> dict[date, float]:
        days = sorted(self.used.keys() | self.missing.keys())
        return {day: self.used.get(day, 0.0) + self.missing.get(day, 0.0) for day in days}

    def come_up_to(self, day: date) -> float:
        """What has been there in all by a day."""
        return math.fsum(supply.amount for supply in self.supplies if supply.day is None or supply.day <= day)

    def left_on(self, day: date) -> float:
        """What is left on the evening of a day; under nought, what is short."""
        return self.come_up_to(day) - self.gone_up_to(day)

    def first_day_over(self, amount: float) -> date | None:
        """The day on which more than so much is gone, or None."""
        return next((day for day, total in self._totals if total > amount + SPECK), None)

    def first_day_at(self, amount: float) -> date | None:
        """The day on which so much is gone, or None."""
        return next((day for day, total in self._totals if total > amount - SPECK), None)

    def is_close(self, amount: float) -> bool:
        """Whether so much covers all that is used, with hardly any to spare."""
        return -SPECK <= amount - self.total < KEPT_IN_HAND * self.total - SPECK

    @property
    def _totals(self) -> list[tuple[date, float]]:
        gone = self._gone
        return list(zip(gone, accumulate(gone.values()), strict=True))


@dataclass(frozen=True)
class Cover:
    """What one supply is good for.

    Parameters
    ----------
    used : how much of it is used.
    needed : the day on which the first of it is used, so the last on which it may come; None where none is.
    gone : the day on which more would be used than is there with it; None where it lasts to the last pour.
    order_by : the last working day to order it, where a lead time is told and it is needed.
    used_up : the day on which the last of it is used, where nothing of it is left for the day it is gone.
    spared : what would be left at the end without it and all that comes later, where that is close; else None.
    """

    supply: Supply
    used: float
    needed: date | None
    gone: date | None
    order_by: date | None
    used_up: date | None = None
    spared: float | None = None

    @property
    def left(self) -> float:
        """What stays of it after the last pour."""
        return self.supply.amount - self.used

    @property
    def late(self) -> bool:
        """Whether it comes after it is needed."""
        return self.supply.day is not None and self.needed is not None and self.supply.day > self.needed


def materials_of(site: Site, uses: Iterable[Use], begun: Begun | None = None) -> tuple[Material, ...]:
    """Every material that a plan uses, in the order in which they are measured.

    Parameters
    ----------
    site : what it has in stock, what comes, prices and lead times.
    begun : what had happened, where a job has begun: what counts found and missed.
    """
    used: dict[str, dict[date, float]] = defaultdict(lambda: defaultdict(float))
    weighed: dict[str, dict[date, float]] = defaultdict(lambda: defaultdict(float))
    for use in uses:
        used[use.material][use.day] += use.amount
        if use.weighed:
            weighed[use.material][use.day] += use.amount
    return tuple(
        replace(_material(site.stock, name, dict(sorted(used[name].items())), begun), weighed=dict(weighed[name]))
        for name in ORDER
        if name in used
    )


def _material(stock: Stock, name: str, used: dict[date, float], begun: Begun | None) -> Material:
    kept = _kept(stock).get(name)
    if kept is None:
        return Material(name, used)
    days = None if kept.lead_time_min is None else math.ceil(kept.lead_time_min / MINUTES_A_DAY)
    return Material(name, used, supplies_of(stock, name, begun), kept.price, days, missing=missing_of(begun, name))


def missing_of(begun: Begun | None, name: str) -> dict[date, float]:
    """What counts of a material had less than the books, by day."""
    told = begun.recorded.get(name) if begun else None
    found: defaultdict[date, float] = defaultdict(float)
    for one in told.missing if told else ():
        found[one.day] += one.amount
    return dict(found)


def supplies_of(stock: Stock, name: str, begun: Begun | None = None) -> tuple[Supply, ...]:
    """What is on hand of a material, then what comes, in the order in which it is used; none where it is not counted.

    What comes on one day is one supply, lot by lot; what counts found besides, once a job has begun, is another.
    """
    kept = _kept(stock).get(name)
    if kept is None:
        return ()
    comes: dict[tuple[date, str], float] = defaultdict(float)
    for delivery in kept.deliveries:
        comes[delivery.day, _lot(delivery)] += delivery.amount
    told = begun.recorded.get(name) if begun else None
    found = [Supply(one.day, one.amount, one.lot or "", found=True) for one in told.found] if told else []
    came = [Supply(day, amount, lot) for (day, lot), amount in comes.items()]
    by_day = sorted([*came, *found], key=lambda one: one.day or date.min)  # of one day, in the order of the file
    on_hand = _on_hand(kept)
    first = (Supply(None, on_hand, _lot(kept)),) if on_hand else ()
    return (*first, *by_day)


def is_kept(stock: Stock, name: str) -> bool:
    """Whether the site tells of a material."""
    return name in _kept(stock)


def _on_hand(kept: Kept) -> float:
    """In the unit of the material."""
    if isinstance(kept, Cement):
        return kept.on_hand_bags
    return kept.on_hand_kg if isinstance(kept, Solid) else kept.on_hand_l


def _kept(stock: Stock) -> dict[str, Kept]:
    """What the site tells of its stock, by the name of the material."""
    told: dict[str, Kept | None] = {CEMENT: stock.cement, AGENT: stock.foaming_agent, OIL: stock.release_oil}
    told |= {name: getattr(stock, name.replace(" ", "_")) for name in SOLIDS}
    return {name: kept for name, kept in told.items() if kept is not None}


def _lot(one: object) -> str:
    """The lot of what is on hand or comes; only of cement and foaming agent it is asked."""
    return getattr(one, "lot", None) or ""


def covers(material: Material, calendar: Calendar, since: date | None) -> list[Cover]:
    """What each supply of a material is good for, what came first used first.

    Parameters
    ----------
    material : one whose supplies are counted.
    calendar : to order on a working day.
    since : the day on which the plan was made anew: what had come by then, or was to come on it, is not to be ordered.
    """
    found, before = [], 0.0
    for supply in material.supplies:
        after = before + supply.amount
        used = min(supply.amount, max(0.0, material.total - before))
        needed = material.first_day_over(before)
        by = None if has_come(supply, since) else order_by(needed, material.lead_days, calendar)
        gone, used_up = material.first_day_over(after), material.first_day_at(after)
        used_up = used_up if gone and used_up != gone else None
        spared = before - material.total if material.is_close(before) else None
        found.append(Cover(supply, used, needed, gone, by, used_up, spared))
        before = after
    return found


def has_come(supply: Supply, since: date | None) -> bool:
    """Whether a supply is there at the start, or was to come by the day on which a plan was made anew."""
    return supply.day is None or (since is not None and supply.day <= since)


def short(material: Material) -> Supply | None:
    """What no supply covers, and the day on which the first of it is needed; None where there is enough.

    Only of materials whose supplies are counted.
    """
    come = math.fsum(supply.amount for supply in material.supplies)
    day = material.first_day_over(come)
    return None if day is None else Supply(day, material.total - come)


def order_by(needed: date | None, lead_days: int | None, calendar: Calendar) -> date | None:
    """The last working day on which to order what is needed on a day; it comes so many calendar days later."""
    if needed is None or lead_days is None:
        return None
    day = needed - timedelta(days=lead_days)
    while not calendar.is_working(day):
        day -= timedelta(days=1)
    return day
