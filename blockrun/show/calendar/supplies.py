"""What a calendar says of supplies: when to order, and what comes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import chain
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.planner.supplies import order_by, short
from blockrun.show.calendar.entry import Entry, plain
from blockrun.show.materials_said import MaterialsSaid
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.supplies import Material

Thing = tuple[date, str, str]
"""A day, what a title says of it, and a line."""


def supplies_of(plan: Plan) -> Iterator[Entry]:
    """Entries on what is to be ordered and what comes, of all that is counted and used."""
    said = MaterialsSaid(plan)
    yield from _entries("order", "Order", chain(*(_orders(material, said) for material in said.counted)))
    yield from _entries("deliver", "Delivery:", chain(*(_comes(material, said) for material in said.counted)))


def _orders(material: Material, said: MaterialsSaid) -> Iterator[Thing]:
    for cover in said.covers[material.name]:
        if cover.order_by and cover.needed:
            what = f"{said.amount(material.name, cover.supply.amount)} of {material.name}"
            line = f"{what}, to be there on {day_name(cover.needed)}"
            if said.since and said.is_late(cover.order_by):
                yield said.since, what, f"{line}, {said.late_said(cover.order_by)}"
            else:
                yield cover.order_by, what, line
    missing = short(material)
    if missing and missing.day:
        calendar = said.plan.site.calendar
        by = order_by(missing.day, material.lead_days, calendar)
        what = f"{said.amount(material.name, missing.amount)} more of {material.name}"
        line = f"{what}, to be there on {day_name(missing.day)}: nothing that is named to come covers it"
        if by is None:  # it may take any time to come, so it is told at once
            by, line = calendar.start, f"{line}, and no lead_time says how long it takes"
        yield max(by, said.since or by), what, line  # nobody looks at a day gone by


def _comes(material: Material, said: MaterialsSaid) -> Iterator[Thing]:
    for cover in said.covers[material.name]:
        if cover.supply.day:
            what = f"{said.amount(material.name, cover.supply.amount)} of {material.name}"
            lot = f", lot {cover.supply.lot}" if cover.supply.lot else ""
            yield cover.supply.day, what, f"{what}{lot}: {said.good_for(material, cover)}"


def _entries(kind: str, title: str, things: Iterable[Thing]) -> Iterator[Entry]:
    by_day: dict[date, list[Thing]] = defaultdict(list)
    for thing in things:
        by_day[thing[0]].append(thing)
    for day, of_day in by_day.items():
        what = listed([name for _, name, _ in of_day])
        yield Entry(kind, day, plain([f"{title} {what}"]), tuple(plain([line]) for *_, line in of_day))
