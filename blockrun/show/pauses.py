"""Why a day before the last pour pours nothing, where plan and site leave no doubt."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.cure.pour_life import TOO_HOT, ever_poured_in_time, poured_in_time_on
from blockrun.files.day_names import day_name
from blockrun.mix import BatchSize, batch_sizes
from blockrun.mix.batches import in_bags
from blockrun.order.castable import castable
from blockrun.planner.ages import ages_of
from blockrun.planner.clocks import Clocks
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.rows import Row, rows_of
from blockrun.planner.stopped import why_stopped
from blockrun.show.measures import by_volume
from blockrun.show.next_pour import NextPour
from blockrun.show.occupied import Occupied
from blockrun.show.page import glued
from blockrun.show.words import at_said
from blockrun.site.calendar import moment_at
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import Delivery, Mixer, MouldKind

TRACE: Final = 0.01
"""Kilograms or litres that tables may be off by."""


class Pauses:
    """Working days from the first of the plan to its last pour on which nothing is poured."""

    def __init__(self, plan: Plan) -> None:
        self.site = plan.site
        self._plan = plan
        self._pouring = {row.start.date() for row in rows_of(plan.tables.batches)}

    @cached_property
    def days(self) -> frozenset[date]:
        """The days."""
        first, last = self.site.calendar.start, max(self._pouring, default=self.site.calendar.start)
        every = (first + timedelta(days=n) for n in range((last - first).days))
        return frozenset(day for day in every if self.site.calendar.is_working(day) and day not in self._pouring)

    def why(self, day: date) -> str:
        """Say all that by itself keeps every batch from being poured, else why it waits; empty where none is sure."""
        if day not in self.days:
            return ""
        reasons: tuple[Callable[[date], str], ...] = (
            self._people,
            self._stock,
            self._hot_or_wet,
            self._too_hot,
            self._cold,
            self._moulds,
        )
        said = "; ".join(filter(None, (reason(day) for reason in reasons)))
        return said or self._next_pour.why_not_sooner(day)

    def _people(self, day: date) -> str:
        least = min(self.site.mixers, key=lambda mixer: mixer.crew)
        here = self.site.crew.on(day)
        if here >= least.crew:
            return ""
        there = f"{here} are" if here > 1 else "1 is" if here else "nobody is"
        return f"the {least.name} needs {least.crew} people, and {there} here"

    def _hot_or_wet(self, day: date) -> str:
        return why_stopped(self.site, day)

    def _too_hot(self, day: date) -> str:
        """No batch of what is still to pour is poured while it keeps, at whatever hour."""
        batches = list(self._smallest(day))
        if not batches or any(
            poured_in_time_on(day, self.site, *_steps_min(mixer, size)) for _, mixer, size in batches
        ):
            return ""
        return "" if any(name in self._poured_anyhow for name, _, _ in batches) else TOO_HOT

    @cached_property
    def _poured_anyhow(self) -> frozenset[str]:
        """Mixes of which heat leaves no batch in time at any hour of a year: a plan pours them all the same."""
        every = list(self._smallest(date.min))
        in_time = {name for name, mixer, size in every if ever_poured_in_time(self.site, *_steps_min(mixer, size))}
        return frozenset(name for name, _, _ in every if name not in in_time)

    def _cold(self, day: date) -> str:
        """A day too cold, from this one to the first on which blocks poured at opening could be stripped."""
        least_c, site = self.site.curing.least_air_c, self.site
        opening = moment_at(day, site.calendar.begins_min)
        old_enough = min(self._clocks.ripe_min(kind, opening, self._strip_h) for kind in site.moulds)
        strip = site.calendar.next_working_minute(site.calendar.moment_of(old_enough)).date()
        for cold in (day + timedelta(days=n) for n in range((strip - day).days + 1)):
            low_c = site.weather.day(cold).min_c
            if low_c < least_c:
                low, least = (glued(show(value, "temperature", site.units)) for value in (low_c, least_c))
                when = (
                    "" if cold == day else f" on {glued(day_name(cold))}, before freshly poured blocks can be stripped"
                )
                return f"the air falls to {low}{when}, and {least} is the least"
        return ""

    @cached_property
    def _clocks(self) -> Clocks:
        return Clocks(self.site, self._plan.order, self._plan.ordered)

    @cached_property
    def _strip_h(self) -> float:
        return ages_of(self.site, self._plan.order, {cast.mix for cast in self._casts}).strip_h

    def _stock(self, day: date) -> str:
        """Cement or agent too little for the smallest batch of any mix still to pour."""
        sizes = [size for _, _, size in self._smallest(day)]
        cement, agent = self.site.stock.cement, self.site.stock.foaming_agent
        cement_kg, agent_l = self._left(day)
        if sizes and cement_kg < min(size.cement_kg for size in sizes) - TRACE:
            bags = glued(in_bags(min(size.bags for size in sizes)))
            left = f"{cement_kg / cement.bag_kg:.3g}".removesuffix(".0")
            said = f"waiting for cement: the smallest batch takes {bags}, what is left is {left}"
            return said + _next(day, cement.deliveries)
        if sizes and agent_l < min(size.agent_l for size in sizes) - TRACE:
            left = by_volume(agent_l, self.site.units)
            return f"waiting for foaming agent: {left} is left, too little for a batch" + _next(day, agent.deliveries)
        return ""

    def _left(self, day: date) -> tuple[float, float]:
        """Kilograms of cement and litres of agent at the end of a day."""
        left = (self.site.stock.cement.on_hand_bags * self.site.stock.cement.bag_kg,
                self.site.stock.foaming_agent.on_hand_l)  # fmt: skip
        for row in rows_of(self._plan.tables.materials):
            if row.day.date() <= day:
                left = (row.cement_left_kg, row.agent_left_l)
        return left

    def _smallest(self, day: date) -> Iterator[tuple[str, Mixer, BatchSize]]:
        """Smallest batch of each mix still to pour, in each mixer that can make it."""
        mixes = {row.mix for row in rows_of(self._plan.tables.batches) if row.start.date() > day}
        for name, mix in mix_proportions(self.site, self._plan.order).items():
            for mixer in self.site.mixers:
                if name in mixes and (sizes := batch_sizes(self.site, mixer, mix)):
                    yield name, mixer, sizes[0]

    def _moulds(self, day: date) -> str:
        """Every mould that can cast what is still to come is in use, from opening until it is too late to pour."""
        free = [self._occupied.free_again(kind, day) for kind in self._wanted(day)]
        if not free or None in free:
            return ""
        first = min(moment for moment in free if moment is not None)
        full = f"the moulds for what is still to cast are full or not clean; the first is free {at_said(first, day)}"
        return f"{full}; {racks}" if (racks := self._occupied.racks_full(day)) else full

    def _wanted(self, day: date) -> list[MouldKind]:
        later = {row.mark for row in self._casts if row.poured.date() > day}
        lines = {line.mark: line for line in self._plan.ordered}
        return [kind for kind in self.site.moulds if any(castable(kind, lines[mark]) for mark in later)]

    @cached_property
    def _casts(self) -> list[Row]:
        return rows_of(self._plan.tables.casts)

    @cached_property
    def _next_pour(self) -> NextPour:
        return NextPour(self._plan, self._occupied)

    @cached_property
    def _occupied(self) -> Occupied:
        return Occupied(self._plan)


def _steps_min(mixer: Mixer, size: BatchSize) -> tuple[int, int, int]:
    """Minutes before the foam of a batch, from it to the last cavity filled, and after that."""
    return mixer.slurry_time_min, size.foam_to_poured_min, mixer.wash_time_min


def _next(day: date, deliveries: tuple[Delivery, ...]) -> str:
    """When more comes."""
    coming = min((one.day for one in deliveries if one.day > day), default=None)
    return f"; more comes {glued(day_name(coming))}" if coming else "; none is on its way"
