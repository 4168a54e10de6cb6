"""What a plan takes: by day, by mix and in all; until when stock lasts, what to order when, and what blocks cost."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from blockrun.mix.batches import in_bags
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.planner.costs import costs_of, without_price
from blockrun.planner.lots import new_lots
from blockrun.planner.supplies import Cover, Material, covers, materials_of, order_by, short
from blockrun.planner.uses import CEMENT, UNITS, WATER, Use, uses_of
from blockrun.show.blocklist import as_csv
from blockrun.show.lots import trial_due
from blockrun.show.measures import by_mass, by_volume
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued
from blockrun.show.words import counted, day_name, listed
from blockrun.units import in_unit

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.plan import Plan

DAY_WIDTH: Final = 11
INDENT: Final = 2
GAP: Final = 2
HUNDREDTHS: Final = 100
_IN_A_NAME: Final = {"bag": "bags", "L": "l", "kg": "kg"}
_DECIMALS: Final = 6


def materials_text(plan: Plan, width: int, changed: Sequence[str] = ()) -> Text:
    """Write what a plan takes and costs.

    Parameters
    ----------
    plan : a whole plan.
    width : characters a line; where a table of the days fits it is one, else each day is a sentence.
    changed : sentences on what of the plan was changed since it was saved.

    Returns
    -------
    What to order next, the days, the order by mix, each supply with how long it lasts, and the cost.
    """
    return _Materials(plan, width).text(changed)


def materials_list(plan: Plan) -> str:
    """What a plan takes by day, as CSV.

    Returns
    -------
    A row a day on which something is used or comes: day, and of each material what is used, and where its stock is
    counted what has come and what is left in the evening. Bags, litres and kilograms, as the names of the columns say.
    """
    materials = materials_of(plan.site, uses_of(plan))
    rows = [["day", *(name for material in materials for name in _columns(material))]]
    for day in _days(materials):
        rows.append([day.isoformat(), *(cell for material in materials for cell in _cells(material, day))])
    return as_csv(rows)


def _columns(material: Material) -> list[str]:
    stem, unit = material.name.replace(" ", "_"), _IN_A_NAME[UNITS[material.name]]
    said = ("used", "delivered", "left") if material.supplies else ("used",)
    return [f"{stem}_{word}_{unit}" for word in said]


def _cells(material: Material, day: date) -> list[str]:
    amounts = [material.used.get(day, 0.0)]
    if material.supplies:
        amounts += [_comes(material, day), material.left_on(day)]
    return [f"{round(amount, _DECIMALS) + 0.0:.{_DECIMALS}f}".rstrip("0").rstrip(".") for amount in amounts]


def _days(materials: Sequence[Material]) -> list[date]:
    """Days from the first pour to the last on which something is used or comes."""
    used = {day for material in materials for day in material.used}
    comes = {supply.day for material in materials for supply in material.supplies if supply.day is not None}
    return sorted(used | {day for day in comes if min(used) <= day <= max(used)})


def _comes(material: Material, day: date) -> float:
    return sum(supply.amount for supply in material.supplies if supply.day == day)


def _short_name(material: Material) -> str:
    """At the head of a column: ``agent``, ``oil``."""
    return material.name.removeprefix("foaming ").removeprefix("release ")


class _Materials:
    def __init__(self, plan: Plan, width: int) -> None:
        self.plan, self.units = plan, plan.site.units
        self.uses = uses_of(plan)
        self.materials = materials_of(plan.site, self.uses)
        self.covers = {material.name: covers(material, plan.site.calendar) for material in self.materials}
        self.new_lots = new_lots(plan)
        self.page = Page(width)

    def text(self, changed: Sequence[str]) -> Text:
        self.page.line((f"{self.plan.site.name}: {self.plan.order.name}, materials", HEADING))
        for said in changed:
            self.page.line((said, ALARM))
        self._write_next()
        self._write_days()
        self._write_order()
        for material in self.materials:
            if material.supplies:
                self._write_stock(material)
        self._write_cost()
        return self.page.text()

    # what to order

    def _write_next(self) -> None:
        """What is to be ordered first, and what is short whatever comes."""
        orders = [
            (cover.order_by, material, cover)
            for material in self.materials
            for cover in self.covers[material.name]
            if cover.order_by is not None
        ]
        if orders:
            by, material, cover = min(orders, key=lambda order: order[0])
            assert cover.needed is not None
            what = f"{self._amount(material.name, cover.supply.amount)} of {material.name}"
            there = f"to be there on {day_name(cover.needed)}"
            self.page.line(("order next: ", HEADING), f"{what}, {self._by(by)}, {there}")
        elif silent := self._without_lead_time():
            self.page.line((f"Write lead_time under {listed(silent)} in stock to be told when to order.", QUIET))
        elif any(material.supplies for material in self.materials):
            self.page.line("order next: nothing that is named to come is needed")
        for material in self.materials:
            missing = short(material) if material.supplies else None
            if missing and missing.day:
                last = order_by(missing.day, material.lead_days, self.plan.site.calendar)
                what = f"{self._amount(material.name, missing.amount)} of {material.name} more must come"
                order = f": order {self._by(last)}" if last else ""
                self.page.line((f"{what} by {day_name(missing.day)}{order}.", ALARM))

    def _without_lead_time(self) -> list[str]:
        """Materials of which something is to come that is needed, and whose lead time is not told."""
        return [
            material.name
            for material in self.materials
            if material.lead_days is None
            and any(cover.supply.day and cover.needed for cover in self.covers[material.name])
        ]

    def _by(self, day: date) -> str:
        """By when to order; a day before the plan starts is said to be no longer far away."""
        late = day < self.plan.site.calendar.start
        return f"by {day_name(day)}{', before the plan starts' if late else ''}"

    # by day

    def _write_days(self) -> None:
        self.page.blank()
        self.page.line(("used by day, and left in the evening", HEADING))
        days = _days(self.materials)
        table = list(self._table(days))
        widths = [max(len(row[column]) for row in table) for column in range(len(table[0]))]
        if sum(widths) + GAP * (len(widths) - 1) <= self.page.width:
            for number, row in enumerate(table):
                cells = (f"{cell:>{width}}" for cell, width in zip(row[1:], widths[1:], strict=True))
                line = glued((" " * GAP).join((f"{row[0]:<{widths[0]}}", *cells)))
                self.page.line((line, QUIET) if number == 0 else line)
        else:
            for day in days:
                self.page.line(self._day_said(day), label=day_name(day), indent=DAY_WIDTH)

    def _table(self, days: Sequence[date]) -> Iterator[list[str]]:
        counted_ones = [material for material in self.materials if material.supplies]
        yield ["", *map(_short_name, self.materials), *(f"{_short_name(each)} left" for each in counted_ones)]
        for day in days:
            come = [self._come(material, day) for material in counted_ones]
            if any(come):
                yield [day_name(day), *("" for _ in self.materials), *come]
            used = (self._used(material, day) for material in self.materials)
            yield [day_name(day), *used, *(self._left(material, day) for material in counted_ones)]

    def _used(self, material: Material, day: date) -> str:
        return self._amount(material.name, material.used[day]) if day in material.used else "-"

    def _come(self, material: Material, day: date) -> str:
        come = _comes(material, day)
        return f"+{self._amount(material.name, come)}" if come else ""

    def _left(self, material: Material, day: date) -> str:
        left = material.left_on(day)
        return self._amount(material.name, left) if left >= 0 else f"{self._amount(material.name, -left)} short"

    def _day_said(self, day: date) -> str:
        used = [f"{self._used(each, day)} of {each.name}" for each in self.materials if day in each.used]
        come = [f"{said} of {name}" for name, said in self._of_stock(self._come, day) if said]
        left = [f"{name} {said}" for name, said in self._of_stock(self._left, day)]
        sentences = (", ".join(come), listed(used), f"left: {', '.join(left)}" if left else "")
        return "; ".join(filter(None, sentences))

    def _of_stock(self, say: Callable[[Material, date], str], day: date) -> list[tuple[str, str]]:
        """What is to be said of each material whose stock is counted."""
        return [(_short_name(each), say(each, day)) for each in self.materials if each.supplies]

    # by order

    def _write_order(self) -> None:
        self.page.blank()
        n_blocks = len(self.plan.tables.casts)
        self.page.line((f"the whole order, {counted(n_blocks, 'block')} with spares", HEADING))
        by_mix: dict[str, list[Use]] = defaultdict(list)
        for use in self.uses:
            by_mix[use.mix].append(use)
        for mix, uses in sorted(by_mix.items(), key=lambda item: (not item[0], item[0])):
            if len(by_mix) > 1:
                self._write_sum(f"mix {mix}" if mix else "moulds", uses)
        self._write_sum("all", self.uses)

    def _write_sum(self, label: str, uses: Sequence[Use]) -> None:
        sums = {
            material.name: sum(use.amount for use in uses if use.material == material.name)
            for material in self.materials
        }
        said = listed([f"{self._amount(name, amount)} of {name}" for name, amount in sums.items() if amount])
        self.page.line(f"{label}: {said}", indent=INDENT)

    # by delivery

    def _write_stock(self, material: Material) -> None:
        self.page.blank()
        self.page.line((f"{material.name}: what is there and what comes", HEADING))
        for cover in self.covers[material.name]:
            amount = self._amount(material.name, cover.supply.amount)
            come = "on hand" if cover.supply.day is None else f"on {day_name(cover.supply.day)}"
            lot = f", lot {cover.supply.lot}" if cover.supply.lot else ""
            self.page.line(f"{amount} {come}{lot}: {self._covers(material, cover)}", indent=INDENT)

    def _covers(self, material: Material, cover: Cover) -> str:
        if cover.needed is None:
            return "not needed for this order"
        said = [] if cover.supply.day is None else [f"needed by {day_name(cover.needed)}"]
        if cover.order_by:
            said.append(f"order {self._by(cover.order_by)}")
        if cover.late:
            said.append("it comes too late")
        said += [trial_due(new) for new in self.new_lots if (new.material, new.supply) == (material.name, cover.supply)]
        if cover.gone and cover.used_up:
            said.append(f"used up on {day_name(cover.used_up)}, more is needed on {day_name(cover.gone)}")
            if any(other.supply.day == cover.gone for other in self.covers[material.name]):
                said.append("when it comes: with more of it sooner, pours may be sooner")
        elif cover.gone:
            said.append(f"gives out on {day_name(cover.gone)}")
        else:
            left = self._amount(material.name, max(0.0, cover.left))
            said.append(f"lasts to the last pour, {left} left")
        return ", ".join(said)

    # cost

    def _write_cost(self) -> None:
        self.page.blank()
        self.page.line(("cost, at your prices", HEADING))
        missing = without_price(self.materials)
        if len(missing) == sum(material.name != WATER for material in self.materials):
            self.page.line(f"Not known: no price of {listed(missing)} is written under stock.", indent=INDENT)
            return
        if missing:
            self.page.line(f"Not in it: no price of {listed(missing)} is written under stock.", indent=INDENT)
        cost, least = costs_of(self.plan, self.uses, self.materials), "at least " if missing else ""
        parts = listed([f"{amount:.2f} for {name}" for name, amount in cost.by_material.items() if name not in missing])
        self.page.line(f"{least}{cost.total:.2f} in all: {parts}; water is not counted", indent=INDENT)
        unit, share = ("yd3", in_unit(LITRES_PER_M3, "volume", "yd3")) if self.units == "US" else ("m3", 1.0)
        self.page.line(
            f"{least}{cost.a_m3 / share:.2f} a {unit} of blocks, {least}{cost.a_block:.2f} a block", indent=INDENT
        )
        for mark in cost.marks:
            self.page.line(
                f"{mark.mark}, {mark.mix}: {least}{mark.each:.2f} each, {mark.blocks} of them", indent=INDENT
            )

    def _amount(self, name: str, amount: float) -> str:
        """Say so much of a material in what it is counted in."""
        if name == CEMENT:
            return glued(in_bags(Fraction(amount).limit_denominator(HUNDREDTHS)))
        return by_mass(amount, self.units) if UNITS[name] == "kg" else by_volume(amount, self.units)
