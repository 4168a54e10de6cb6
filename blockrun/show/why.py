"""Why there is no plan on time, and what holds back the last pour, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.planner.why.facts import (
    Age,
    Cold,
    Explained,
    Ground,
    Lower,
    Mixers,
    Moulds,
    Nights,
    People,
    Racks,
    Stock,
    Wanted,
)
from blockrun.planner.why.rules import Thing
from blockrun.show.page import HEADING, QUIET, Page, glued
from blockrun.units import counted, listed, show, show_time

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.whatif.changes import Change
    from blockrun.planner.why.explain import CourseLate, Reason, Why
    from blockrun.planner.why.frees import Way
    from blockrun.site import Site

_SET_BY_C: Final = 20
_NIGHTS_NAMED: Final = 3


def why_text(why: Why, site: Site, width: int) -> Text:
    """Write what is proved before any plan: each clash with its facts and ways out, then the courses that are late."""
    page = Page(width, site.units)
    for number, reason in enumerate(why.late):
        if number:
            page.blank()
        _reason(page, reason, site)
    if why.courses:
        page.blank()
        page.line(("Late in every plan:", HEADING))
        _courses(page, why.courses)
    if not why.late and not why.stopped:
        page.line("No block is proved to be late.")
    if why.finish is not None:
        page.blank()
        _reason(page, why.finish, site)
    if why.stopped:
        page.blank()
        page.line(("Stopped early: there may be more to say.", QUIET))
    return page.text()


def _reason(page: Page, reason: Reason, site: Site) -> None:
    clash = reason.clash
    page.line((_headline(clash), HEADING))
    page.line(f"For {listed([_wanted_said(each) for each in clash.wanted])}.")
    for said in _facts(clash, site):
        page.item(said)
    if clash.in_all < clash.at_most:
        lower = f" ({listed([_lower_said(each) for each in clash.lower])})" if clash.lower else ""
        page.line(f"With all else as it is{lower}, at most {clash.in_all}.")
    if reason.until > clash.by:
        until = glued(day_name(reason.until))
        page.line(f"So it is on later days, up to {until}; what frees this alone is reckoned for those, too.")
    _ways(page, reason)


def _ways(page: Page, reason: Reason) -> None:
    """What frees it: changes that are the least, others of which more is needed or none was enough, or why none is."""
    alone = [way for way in reason.ways if len(way.least) == 1]
    together = [way for way in reason.ways if len(way.least) > 1]
    if least := [way.said for way in alone if way.enough == way.least and way.until is None]:
        each = ", each alone" if len(least) > 1 else ""
        page.line(f"The least that frees this{each}: ", " or ".join(map(glued, least)), ".")
    for way in alone:
        if way.enough is None:
            page.line(f"At least {glued(way.said)}, and it may take more: no plan was found with that.")
        elif way.enough != way.least:
            less = f"less may do, but {glued(_said(way.least))} at the least"
            page.line(f"This frees it{_until_said(way)}: {glued(way.said)}; {less}.", *_not_later(way))
        elif way.until is not None:
            page.line(f"This frees it{_until_said(way)}: {glued(way.said)}.", *_not_later(way))
    for way in together:
        today = f"for {glued(day_name(reason.clash.by))} " if reason.until > reason.clash.by else ""
        page.line(f"No one change that was tried frees this; {today}", *_together_said(way))
    if reason.of_some and any(way.enough for way in reason.ways):
        page.line("This was tried for these blocks alone: others of the order may have to wait for it.")
    if reason.cut_short:
        page.line(("Not all that may free this was tried.", QUIET))
    elif not reason.ways:
        _no_way(page, reason.clash)


def _until_said(way: Way) -> str:
    return "" if way.until is None else f" up to {glued(day_name(way.until))}"


def _not_later(way: Way) -> tuple[str, ...]:
    return () if way.until is None else (" For later days no plan was found with that.",)


def _together_said(way: Way) -> tuple[str, ...]:
    if way.enough is None:
        return ("it takes at least, together: ", way.said, ". No plan was found with just that.")
    least = "" if way.enough == way.least else f"; less may do, but at the least {_said(way.least)}"
    return ("together these do: ", way.said, least, ".")


def _said(changes: Iterable[Change]) -> str:
    return " and ".join(change.said for change in changes)


def _no_way(page: Page, clash: Explained) -> None:
    if any(not isinstance(fact, Age) for fact in clash.facts):
        page.line("No one change that was tried frees this: something else may be short by then, too.")
    elif clash.ready and clash.last_pour is None:
        page.line("Only a later day, or an earlier start, frees this.")
    elif clash.ready:
        page.line("No change that was tried frees this. A later day, or an earlier start, does.")


def _headline(clash: Explained) -> str:
    by = day_name(clash.by)
    if not clash.ready:
        return (
            f"The last pour cannot be on {by} or before: of {counted(clash.blocks, 'block')} at most "
            f"{clash.at_most} can be poured by then."
        )
    most = f"at most {clash.at_most}" if clash.at_most else "none"
    return f"By {by} {counted(clash.blocks, 'block')} are needed, and {most} can be ready."


def _wanted_said(wanted: Wanted) -> str:
    """``yard courses 1 to 4 (44 blocks)``, or ``(6 of their 17 blocks)``."""
    courses, their = "", "its"
    if wanted.first is not None:
        one = wanted.first == wanted.last
        courses = f" course {wanted.first}" if one else f" courses {wanted.first} to {wanted.last}"
        their = "its" if one else "their"
    blocks = counted(wanted.blocks, "block")
    if wanted.part and wanted.in_all > wanted.blocks:
        blocks = f"{wanted.blocks} of {their} {counted(wanted.in_all, 'block')}"
    return f"{wanted.part or 'spares'}{courses} ({glued(blocks)})"


# facts


def _facts(clash: Explained, site: Site) -> Iterator[str]:
    cold = next((fact for fact in clash.facts if isinstance(fact, Cold)), None)
    moulds = [fact for fact in clash.facts if isinstance(fact, Moulds)]
    yield from (_moulds_said(fact, clash, site, cold=cold is not None) for fact in moulds)
    if cold and not moulds:
        yield f"cold: a strip waits longer than the {_at_20(cold.strip_h, site)} would take"
    yield from _further(clash, site)
    if not clash.facts:
        yield "the working days of the calendar up to then: with plenty of everything they are too few"


def _further(clash: Explained, site: Site) -> Iterator[str]:
    """Facts that stand alone, in their order."""
    for fact in clash.facts:
        match fact:
            case Nights():
                yield _nights_said(fact, site)
            case Racks():
                kept = show_time(fact.rack_for_min)
                yield f"{counted(fact.places, 'place')} on the racks, each kept for {kept}"
            case Ground():
                yield _ground_said(fact)
            case Mixers():
                yield _mixers_said(fact, site)
            case People():
                yield _people_said(fact)
            case Stock():
                yield _stock_said(fact, site)
            case Age():
                yield _age_said(fact)
            case _:
                pass


def _moulds_said(fact: Moulds, clash: Explained, site: Site, *, cold: bool) -> str:
    number = {
        Thing.moulds: counted(fact.count, f"{fact.kind} mould"),
        Thing.sides: f"{counted(fact.count, 'set')} of {fact.kind} sides",
        Thing.bases: counted(fact.count, f"{fact.kind} base"),
    }[fact.thing]
    waits = ""
    if fact.wait_h:
        few, most = fact.wait_h
        verb = "off the blocks" if fact.thing is Thing.sides else "stripped"
        hours = f"{few} h" if few == most else f"{few} to {most} h"
        waits = f", {verb} {hours} after the pour"
        waits += f" (in the cold; {_at_20(fact.mild_h, site)})" if cold else ""
    by = "" if clash.last_pour is None else f" by {day_name(clash.last_pour)}"
    each = "each " if fact.count > 1 else ""
    turns = f"{number}{waits}: {each}filled {_times(fact.turns)}{by} at the most"
    return f"{turns}, {fact.cavities} blocks a time" if fact.cavities > 1 else turns


def _at_20(hours: float, site: Site) -> str:
    return f"{hours:g} h at {show(_SET_BY_C, 'temperature', site.units)}"


def _times(turns: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(turns, f"{turns} times")


def _mixers_said(fact: Mixers, site: Site) -> str:
    return (
        f"{listed(fact.names)}: at most {counted(fact.a_day, 'batch')} a day and "
        f"{fact.batches} by then, of {show(fact.biggest_l, 'volume', site.units)} at the most"
    )


def _people_said(fact: People) -> str:
    fewer = f" (fewer on {counted(fact.away, 'day')})" if fact.away else ""
    return (
        f"{_people(fact.people)}{fewer}, {fact.hours} hours of work in all; a batch takes "
        f"{fact.batch_people} of them {fact.batch_min} min"
    )


def _people(number: int) -> str:
    return counted(number, "person", "people")


def _nights_said(fact: Nights, site: Site) -> str:
    days = listed([*map(day_name, fact.days)]) if len(fact.days) <= _NIGHTS_NAMED else _span(fact.days)
    if fact.thing is Thing.weather:
        return f"{counted(len(fact.days), 'working day')} too hot or too wet to pour, all day or for hours: {days}"
    least = show(fact.least_c, "temperature", site.units)
    return f"too cold: {counted(len(fact.days), 'day')} under {least} ({days}); no mould may stand full then"


def _lower_said(lower: Lower) -> str:
    """What leaves still less: ``gang-4 moulds``, ``days too cold to pour``."""
    if lower.kind is not None:
        return f"{lower.kind} {lower.thing.value}"
    return {Thing.frost: "days too cold to pour", Thing.weather: "days too hot or too wet"}.get(
        lower.thing, lower.thing.value
    )


def _span(days: tuple[date, ...]) -> str:
    return f"from {day_name(days[0])} to {day_name(days[-1])}"


def _ground_said(fact: Ground) -> str:
    each = ", each of one size and mix" if fact.formats > 1 else ""
    stack = f"{counted(fact.places, 'place')} on the stack{each}, {counted(fact.layers, 'layer')} high"
    if fact.day is None:
        return f"{stack}: what has no room there stays in its mould, and keeps that full"
    return f"{stack}: {fact.wanted} blocks are to stand there on {day_name(fact.day)}, and {fact.most} at the most can"


def _stock_said(fact: Stock, site: Site) -> str:
    def amount(number: float) -> str:
        bags = f"{number:g} bag{'s' * (number != 1)}"
        return bags if fact.thing is Thing.cement else show(number, "volume", site.units)

    there = f"{fact.thing.value}: {amount(fact.there)} on hand or delivered by then"
    if fact.last_came is None:
        return there
    return f"{there}, the last on {day_name(fact.last_came)}; {amount(fact.at_first)} on the first day"


def _age_said(fact: Age) -> str:
    wait = show_time(max(fact.lay_min, fact.rack_for_min))
    said = f"blocks are laid {wait} after the pour" if fact.lay_min else f"blocks are on the rack for {wait}"
    if fact.poured_by is not None:
        return f"{said}, so they are poured by {day_name(fact.poured_by)}"
    first = "" if fact.first_ready is None else f", so the first are ready on {day_name(fact.first_ready)}"
    return f"{said}{first}"


# courses


def _courses(page: Page, courses: Iterable[CourseLate]) -> None:
    for late in courses:
        course = "" if late.course is None else f" course {late.course}"
        page.item(
            f"{late.part}{course} ({glued(counted(late.blocks, 'block'))}): needed {glued(day_name(late.needed))}, "
            f"not all there before {glued(day_name(late.soonest))}"
        )
