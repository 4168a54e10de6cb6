"""What a plan takes, in words for any page: by day and in all, until when stock lasts, what to order when, the cost."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property
from itertools import chain
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.mix.bucket_of_foam import foam_bucket_l
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.planner.costs import Costs, costs_of, without_price
from blockrun.planner.lots import new_lots
from blockrun.planner.supplies import (
    KEPT_IN_HAND,
    Cover,
    Material,
    Supply,
    covers,
    has_come,
    materials_of,
    order_by,
    short,
)
from blockrun.planner.uses import CEMENT, UNITS, WATER, Use, uses_of
from blockrun.show.lots import trial_due
from blockrun.show.measures import by_bags, by_mass, by_volume
from blockrun.show.page import glued
from blockrun.units import counted, in_unit, listed, show_share

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def short_name(material: Material) -> str:
    """At the head of a column: ``agent``, ``oil``."""
    return material.name.removeprefix("foaming ").removeprefix("release ")


def comes_on(material: Material, day: date) -> float:
    """How much of a material is delivered on a day."""
    return sum(supply.amount for supply in material.supplies if supply.day == day and not supply.found)


def days_of(materials: Sequence[Material]) -> list[date]:
    """Days from the first pour to the last on which something is used or comes."""
    used = {day for material in materials for day in material.used}
    comes = {supply.day for material in materials for supply in material.supplies if supply.day and not supply.found}
    return sorted(used | {day for day in comes if min(used) <= day <= max(used)})


class MaterialsSaid:
    """What is to be said of the materials of a plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.units = plan, plan.site.units
        self.uses = uses_of(plan)
        self.since = plan.begun.since.date() if plan.begun else None
        self.materials = materials_of(plan.site, self.uses, plan.begun)
        self.covers = {each.name: covers(each, plan.site.calendar, self.since) for each in self.materials}
        self.new_lots = new_lots(plan)

    @property
    def counted(self) -> list[Material]:
        """Those whose stock is counted."""
        return [material for material in self.materials if material.supplies]

    @cached_property
    def days(self) -> list[date]:
        """Days from the first pour to the last on which something is used or comes."""
        return days_of(self.materials)

    # what to order

    def orders(self) -> list[tuple[date, Material, Cover]]:
        """What is to be ordered, the soonest first: the last day to order it, the material and the delivery."""
        orders = [
            (cover.order_by, material, cover)
            for material in self.materials
            for cover in self.covers[material.name]
            if cover.order_by is not None
        ]
        return sorted(orders, key=lambda order: order[0])

    def order_next(self) -> str:
        """What is to be ordered first, by when, and for which day, after what is late; empty where nothing is."""
        orders = self.orders()
        late = [order for order in orders if self.is_late(order[0])]
        return "; then ".join(self._order(*order) for order in [*late, *orders[len(late) :][:1]])

    def _order(self, by: date, material: Material, cover: Cover) -> str:
        assert cover.needed is not None
        what, when = f"{self.amount(material.name, cover.supply.amount)} of {material.name}", day_name(cover.needed)
        if self.is_late(by):
            return f"{what}, to be there on {when}, {self.late_said(by)}"
        return f"{what}, {self._by(by)}, to be there on {when}"

    def is_late(self, by: date) -> bool:
        """Whether a day to order was gone by when the plan was made anew."""
        return self.since is not None and by < self.since

    def late_said(self, by: date) -> str:
        """What to do about an order of which nobody is asked whether it was made."""
        return f"should have been ordered by {day_name(by)}: if it was not, order at once"

    def no_order(self) -> str:
        """Why nothing is said to be ordered; empty where no stock is counted, or something is short."""
        if silent := self._without_lead_time():
            return f"Write lead_time under {listed(silent)} in stock to be told when to order."
        if any(self.short()):
            return ""
        if any(cover.needed is None and cover.spared is not None for cover in self._all_covers):
            return "nothing has to be ordered by a day; keep what is marked so below"
        return "nothing has to be ordered: what is on hand is enough" if self.counted else ""

    @property
    def _all_covers(self) -> Iterator[Cover]:
        return chain.from_iterable(self.covers.values())

    def short(self) -> Iterator[str]:
        """What is short whatever comes, and by when it must be there."""
        for material in self.counted:
            missing = short(material)
            if missing and missing.day:
                last = order_by(missing.day, material.lead_days, self.plan.site.calendar)
                what = f"{self.amount(material.name, missing.amount)} of {material.name} more must come"
                order = f": order {'at once' if self.is_late(last) else self._by(last)}" if last else ""
                yield f"{what} by {day_name(missing.day)}{order}."

    def _without_lead_time(self) -> list[str]:
        """Materials of which something is to come that is needed, and whose lead time is not told."""
        return [
            material.name
            for material in self.materials
            if material.lead_days is None
            and any(cover.needed and not has_come(cover.supply, self.since) for cover in self.covers[material.name])
        ]

    def _by(self, day: date) -> str:
        """By when to order; a day before the plan starts is said to be no longer far away."""
        late = day < self.plan.site.calendar.start
        return f"by {day_name(day)}{', before the plan starts' if late else ''}"

    # by day

    def table(self) -> Iterator[list[str]]:
        """The days: heads, then a row for what comes on a day before the row of what is used and left on it."""
        yield ["", *map(short_name, self.materials), *(f"{short_name(each)} left" for each in self.counted)]
        for day in self.days:
            come = [self.come(material, day) for material in self.counted]
            if any(come):
                yield [day_name(day), *("" for _ in self.materials), *come]
            used = (self.used(material, day) for material in self.materials)
            yield [day_name(day), *used, *(self.left(material, day) for material in self.counted)]

    def used(self, material: Material, day: date) -> str:
        """So much is used on a day; a dash for none."""
        return self.amount(material.name, material.used[day]) if day in material.used else "-"

    def come(self, material: Material, day: date) -> str:
        """So much comes on a day; empty for none."""
        come = comes_on(material, day)
        return f"+{self.amount(material.name, come)}" if come else ""

    def left(self, material: Material, day: date) -> str:
        """So much is left on the evening of a day, or short."""
        left = material.left_on(day)
        return self.amount(material.name, left) if left >= 0 else f"{self.amount(material.name, -left)} short"

    # by order

    def sums(self) -> Iterator[str]:
        """What the whole order takes, mix by mix where there are several, and in all."""
        by_mix: dict[str, list[Use]] = defaultdict(list)
        for use in self.uses:
            by_mix[use.mix].append(use)
        for mix, uses in sorted(by_mix.items(), key=lambda item: (not item[0], item[0])):
            if len(by_mix) > 1:
                yield self._sum(f"mix {mix}" if mix else "moulds", uses)
        yield self._sum("all", self.uses)
        yield self._weighed()

    def _weighed(self) -> str:
        """What of it goes into foam that is weighed: the agent that no batch counts."""
        n_batches, bucket = len(self.plan.tables.batches), by_volume(foam_bucket_l(self.plan.site), self.units)
        before = "the batch" if n_batches == 1 else f"each of {glued(counted(n_batches, 'batch'))}"
        label = f"of it to weigh foam, a bucket of {bucket} before {before}, thrown away"
        return self._sum(label, [use for use in self.uses if use.weighed])

    def _sum(self, label: str, uses: Sequence[Use]) -> str:
        sums = {
            material.name: sum(use.amount for use in uses if use.material == material.name)
            for material in self.materials
        }
        said = listed([f"{self.amount(name, amount)} of {name}" for name, amount in sums.items() if amount])
        return f"{label}: {said}"

    # by delivery

    def stock(self, material: Material) -> Iterator[str]:
        """What is there of a material and what comes, and what each is good for."""
        for cover in self.covers[material.name]:
            amount = self.amount(material.name, cover.supply.amount)
            lot = f", lot {cover.supply.lot}" if cover.supply.lot else ""
            yield f"{amount} {self._there(cover.supply)}{lot}: {self.good_for(material, cover)}"
        for day, missing in sorted(material.missing.items()):
            yield f"{self.amount(material.name, missing)} less than the books had on {day_name(day)}"

    def _there(self, supply: Supply) -> str:
        """Since when it is there, or on which day it comes."""
        if supply.found and supply.day is not None:
            return f"more than the books had on {day_name(supply.day)}"
        if supply.day is not None:
            return f"{'there since' if has_come(supply, self.since) else 'on'} {day_name(supply.day)}"
        begun = self.plan.begun
        return "on hand at the start" if begun is not None and begun.recorded else "on hand"

    def good_for(self, material: Material, cover: Cover) -> str:
        """By when a supply is needed and to be ordered, the trial it asks for, and until when it lasts."""
        if cover.needed is None and cover.spared is None:
            return "not needed for this order"
        if cover.needed is None:
            return f"not needed by the plan, but keep it: without it, {self._spare(material, cover.spared)}"
        said = []
        if cover.supply.day is not None:
            is_there = has_come(cover.supply, self.since)
            said.append(
                f"drawn from {day_name(cover.needed)} on" if is_there else f"needed by {day_name(cover.needed)}"
            )
        if cover.order_by:
            is_late = self.is_late(cover.order_by)
            said.append(self.late_said(cover.order_by) if is_late else f"order {self._by(cover.order_by)}")
        if cover.late and not has_come(cover.supply, self.since):
            said.append("it comes too late")
        said += [trial_due(new) for new in self.new_lots if (new.material, new.supply) == (material.name, cover.supply)]
        if cover.gone and cover.used_up:
            said.append(f"used up on {day_name(cover.used_up)}, more is needed on {day_name(cover.gone)}")
            if any(other.supply.day == cover.gone for other in self.covers[material.name]):
                said.append("when it comes: with more of it sooner, pours may be sooner")
        elif cover.gone:
            said.append(f"gives out on {day_name(cover.gone)}")
        else:
            is_last = cover is self.covers[material.name][-1]
            said.append(f"lasts to the last pour, {self._spare(material, cover.left, is_told=is_last)}")
        return ", ".join(said)

    def _spare(self, material: Material, left: float | None, *, is_told: bool = True) -> str:
        """What is left at the end; where that is close, and it is to be told, that it is."""
        said = f"{self.amount(material.name, max(0.0, left or 0.0))} left"
        close = is_told and material.is_close(material.total + (left or 0.0))
        return f"{said}, less than {glued(show_share(KEPT_IN_HAND))} to spare" if close else said

    # cost

    def cost(self) -> Iterator[str]:
        """What the plan costs, in all, a cubic measure of blocks and a block, as far as prices are known."""
        missing = without_price(self.materials)
        if self._costs is None:
            yield f"Not known: no price of {listed(missing)} is written under stock."
            return
        if missing:
            yield f"Not in it: no price of {listed(missing)} is written under stock."
        cost, least = self._costs, self._least
        parts = listed([f"{amount:.2f} for {name}" for name, amount in cost.by_material.items() if name not in missing])
        yield f"{least}{cost.total:.2f} in all: {parts}; water is not counted"
        unit, share = ("yd3", in_unit(LITRES_PER_M3, "volume", "yd3")) if self.units == "US" else ("m3", 1.0)
        yield f"{least}{cost.a_m3 / share:.2f} a {unit} of blocks, {least}{cost.a_block:.2f} a block"

    def cost_by_mark(self) -> Iterator[str]:
        """What a block of each mark costs."""
        for mark in self._costs.marks if self._costs else ():
            yield f"{mark.mark}, {mark.mix}: {self._least}{mark.each:.2f} each, {mark.blocks} of them"

    @cached_property
    def _costs(self) -> Costs | None:
        """None where no price is written."""
        counted = sum(material.name != WATER for material in self.materials)
        if len(without_price(self.materials)) == counted:
            return None
        return costs_of(self.plan, self.uses, self.materials)

    @property
    def _least(self) -> str:
        """What stands before a cost that lacks a price."""
        return "at least " if without_price(self.materials) else ""

    def amount(self, name: str, amount: float) -> str:
        """Say so much of a material in what it is counted in."""
        if name == CEMENT:
            return by_bags(amount)
        return by_mass(amount, self.units) if UNITS[name] == "kg" else by_volume(amount, self.units)
