"""The page of a day: who is here, the weather, the order of work with its limits, moulds as they stand, tomorrow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from blockrun.files.day_names import clock, day_name, full_day_name
from blockrun.show.care import care_said
from blockrun.show.cautions import SHORT
from blockrun.show.day import names_of, onto_racks
from blockrun.show.days import delivery_said
from blockrun.show.hazards import hazards_of
from blockrun.show.head import air_said, asked_first, day_total, tanks_said
from blockrun.show.kept_full import kept_full_said
from blockrun.show.last_foam import last_foam_said
from blockrun.show.page import plain
from blockrun.show.paper.mould_boxes import mould_boxes
from blockrun.show.paper.order_of_work import order_of_work
from blockrun.show.paper.press import Sheet
from blockrun.show.ready import ready_said
from blockrun.show.words import named_together
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.show.paper.asked import Asked
    from blockrun.site import Site


def day_pages(asked: Asked, day: Day) -> Iterator[Sheet]:
    """The page of a day, and of days off after it; days without work in the yard that follow one another share one."""
    together = asked.together(day)
    if together[0] is day:
        alone, off = (together[:1], together[1:]) if day.jobs else (together, ())
        yield Sheet("day_page", {"days": [_day(asked, one, off) for one in alone], "cautions": SHORT})


def _off(day: Day, site: Site) -> dict[str, Any]:
    """A day off after a day of work: what somebody comes by for."""
    return {"day": full_day_name(day.day), "said": [care_said(day, site), *hazards_of(day, site)]}


def _day(asked: Asked, day: Day, off: Sequence[Day]) -> dict[str, Any]:
    site, begun = asked.plan.site, asked.plan.begun
    out_of_use = begun.out_of_use if begun else ()
    return {
        "day": full_day_name(day.day),
        "people": day.people,
        "here": _here(day, site),
        "air": air_said(day.weather, site.units),
        "last_foam": last_foam_said(day, site),
        "warnings": [*hazards_of(day, site), *asked_first(day, site)],
        "no_pour": day.no_pour,
        "total": day_total(day, site) if day.pours else "",
        "tanks": tanks_said(day, site),
        "comes": [delivery_said(one, site.units) for one in day.delivered],
        "crush": [cubes.said for cubes in day.crushed],
        "rows": [{**asdict(row), "at": clock(row.at)} for row in order_of_work(day, site)],
        "moulds": [asdict(row) for row in mould_boxes(day, site, asked.standing.on(day.day), out_of_use)],
        "racks": [asdict(rack) for rack in asked.racks.on(day.day)],
        "kept_full": kept_full_said(day.kept_full),
        "care": care_said(day, site),
        "ready": [plain(said) for said in ready_said(day.ready)],
        "apart": [apart.and_until for apart in day.apart],
        "off": [_off(one, site) for one in off],
        "next": _next(asked, day),
    }


def _here(day: Day, site: Site) -> str:
    if not day.people:
        return "nobody here" if site.calendar.is_working(day.day) else "no working day"
    away = site.crew.people - day.people
    return f"{'1 person' if day.people == 1 else f'{day.people} people'} here{f', {away} away' if away else ''}"


def _next(asked: Asked, day: Day) -> dict[str, Any] | None:
    """What the next day with work brings, so that it can be made ready this evening."""
    following = asked.next_with_work(day)
    if following is None:
        return None
    site = asked.plan.site
    is_tomorrow = following.day == day.day + timedelta(days=1)
    return {
        "day": f"{'Tomorrow' if is_tomorrow else 'Next'}, {day_name(following.day)}",
        "air": air_said(following.weather, site.units),
        "said": [
            *_pours_said(following),
            *_strips_said(following),
            *_also_said(following),
            *_comes_said(following, site),
        ],
        "warnings": list(hazards_of(following, site)),
    }


def _pours_said(day: Day) -> Iterator[str]:
    if day.pours:
        moulds = named_together(fill.mould for pour in day.pours for fill in pour.fills)
        yield f"pour {counted(len(day.pours), 'batch')}, the first from {clock(day.pours[0].start)}, into {moulds}"


def _also_said(day: Day) -> Iterator[str]:
    """What is done that the plan sets no time aside for."""
    if n := sum(leaving.count for leaving in day.off_rack):
        yield f"take {counted(n, 'block')} off the racks"
    if day.fillers:
        yield f"strip {named_together(ripe.mould for ripe in day.fillers)} when somebody is free"
    yield from (cubes.said for cubes in day.crushed)


def _comes_said(day: Day, site: Site) -> Iterator[str]:
    if day.delivered:
        yield f"delivered: {listed([delivery_said(one, site.units) for one in day.delivered])}"


def _strips_said(day: Day) -> Iterator[str]:
    """What is bared and stripped, and what goes to the racks, each in a line."""
    for task, verb in (("sides", "take the sides off"), ("strip", "strip")):
        if names := names_of(day.at(task)):
            yield f"{verb} {named_together(names)}"
    if onto := onto_racks(day.at("strip")):
        moved = [f"{counted(n, 'block')} to rack {rack}" for rack, n in onto]
        yield f"move {listed(moved)}"
