"""Why there is no plan on time, what holds back the last pour, and what held back each day of a plan, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.planner.why.rules import Thing
from blockrun.show.page import HEADING, QUIET, Page, glued
from blockrun.show.words import counted, day_name, listed
from blockrun.units import show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.why.explain import CourseLate, Reason, Why
    from blockrun.planner.why.facts import Explained, Wanted
    from blockrun.planner.why.held import Held, HeldDay
    from blockrun.site import Site

_HOUR_MIN: Final = 60
_NIGHTS_NAMED: Final = 3
_BULLET: Final = "-"
_INDENT: Final = 2


def why_text(why: Why, site: Site, width: int) -> Text:
    """Write what is proved before any plan: each clash with its facts and ways out, then the courses that are late."""
    page = Page(width)
    for reason in why.late:
        _reason(page, reason, site)
        page.blank()
    if why.courses:
        page.line(("Late in every plan:", HEADING))
        _courses(page, why.courses)
        page.blank()
    if not why.late:
        page.line("Nothing is proved to be late.")
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
        page.line(said, label=_BULLET, indent=_INDENT)
    if reason.ways:
        page.line("The least that frees this, each alone: ", " or ".join(glued(way) for way in reason.ways), ".")
    elif clash.ready:
        page.line("Only a later day, or an earlier start, frees this.")


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
    """``yard, courses 1 to 4: 44 blocks``."""
    courses = ""
    if wanted.first is not None:
        one = wanted.first == wanted.last
        courses = f" course {wanted.first}" if one else f" courses {wanted.first} to {wanted.last}"
    return f"{wanted.part or 'spares'}{courses} ({glued(counted(wanted.blocks, 'block'))})"


# facts


def _facts(clash: Explained, site: Site) -> Iterator[str]:
    from blockrun.planner.why import facts

    cold = next((fact for fact in clash.facts if isinstance(fact, facts.Cold)), None)
    moulds = [fact for fact in clash.facts if isinstance(fact, facts.Moulds)]
    yield from (_moulds_said(fact, clash, cold, last=fact is moulds[-1]) for fact in moulds)
    if cold and not moulds:
        yield f"cold: a strip waits longer than the {cold.at_20_h:g} h it takes at 20 degC"
    for fact in clash.facts:
        match fact:
            case facts.Nights():
                yield _nights_said(fact, site)
            case facts.Racks():
                kept = show(fact.rack_for_min, "time")
                yield f"{counted(fact.places, 'place')} on the racks, each kept for {kept}"
            case facts.Mixers():
                yield (
                    f"{listed(fact.names)}: at most {counted(fact.a_day, 'batch')} a day and "
                    f"{fact.batches} by then, of {show(fact.biggest_l, 'volume', site.units)} at the most"
                )
            case facts.People():
                yield (
                    f"{_people(fact.people)}, {fact.hours} hours of work in all; a batch takes "
                    f"{fact.batch_people} of them {fact.batch_min} min"
                )
            case facts.Stock():
                yield _stock_said(fact, site)
            case facts.Age():
                yield _age_said(fact, clash)
            case _:
                pass
    if not clash.facts:
        yield "the working days of the calendar up to then: with plenty of everything they are too few"


def _moulds_said(fact: object, clash: Explained, cold: object, *, last: bool) -> str:
    from blockrun.planner.why.facts import Cold, Moulds

    assert isinstance(fact, Moulds)
    what = {Thing.moulds: "mould", Thing.sides: "set of sides", Thing.bases: "base"}[fact.thing]
    number = f"{fact.count} {fact.kind} {what if fact.count == 1 else _plural(what)}"
    waits = ""
    if fact.wait_h:
        few, most = fact.wait_h
        verb = "off the block" if fact.thing is Thing.sides else "stripped"
        hours = f"{few} h" if few == most else f"{few} to {most} h"
        waits = f", {verb} {hours} after the pour"
        waits += f" (in the cold; {cold.at_20_h:g} h at 20 degC)" if isinstance(cold, Cold) and last else ""
    by = "" if clash.last_pour is None else f" by {day_name(clash.last_pour)}"
    turns = f"{number}{waits}: filled {_times(fact.turns)}{by} at the most"
    return f"{turns}, {fact.cavities} blocks a time" if fact.cavities > 1 else turns


def _plural(what: str) -> str:
    return "sets of sides" if what == "set of sides" else f"{what}s"


def _times(turns: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(turns, f"{turns} times")


def _people(number: int) -> str:
    return "1 person" if number == 1 else f"{number} people"


def _nights_said(fact: object, site: Site) -> str:
    from blockrun.planner.why.facts import Nights

    assert isinstance(fact, Nights)
    days = listed([*map(day_name, fact.days)]) if len(fact.days) <= _NIGHTS_NAMED else _span(fact.days)
    if fact.thing is Thing.weather:
        return f"{counted(len(fact.days), 'working day')} too hot or too wet to pour: {days}"
    least = show(fact.least_c, "temperature", site.units)
    return f"frost: {counted(len(fact.days), 'working day')} under {least} ({days}); no mould may stand full then"


def _span(days: tuple[date, ...]) -> str:
    return f"from {day_name(days[0])} to {day_name(days[-1])}"


def _stock_said(fact: object, site: Site) -> str:
    from blockrun.planner.why.facts import Stock

    assert isinstance(fact, Stock)
    if fact.thing is Thing.cement:
        return f"cement: {fact.there:g} bags on hand or delivered by then"
    return f"foaming agent: {show(fact.there, 'volume', site.units)} on hand or delivered by then"


def _age_said(fact: object, clash: Explained) -> str:
    from blockrun.planner.why.facts import Age

    assert isinstance(fact, Age)
    wait = show(max(fact.lay_min, fact.rack_for_min), "time")
    said = f"blocks are laid {wait} after the pour" if fact.lay_min else f"blocks are on the rack for {wait}"
    if clash.last_pour is not None:
        return f"{said}, so they are poured by {day_name(clash.last_pour)}"
    first = "" if fact.first_ready is None else f", so the first are ready on {day_name(fact.first_ready)}"
    return f"{said}{first}"


# courses


def _courses(page: Page, courses: Iterable[CourseLate]) -> None:
    for late in courses:
        course = "" if late.course is None else f" course {late.course}"
        page.line(
            f"{late.part}{course} ({glued(counted(late.blocks, 'block'))}): needed {glued(day_name(late.needed))}, "
            f"not all there before {glued(day_name(late.soonest))}",
            label=_BULLET,
            indent=_INDENT,
        )


# a plan


def held_text(held: Held, late: int, width: int) -> Text:
    """Write what held back each day of a plan, what did so most often first.

    Parameters
    ----------
    held : of a plan.
    late : its block-days late.
    width : characters a line.
    """
    page = Page(width)
    last = held.days[-1]
    page.line((f"Last pour {day_name(last.day)}, {counted(late, 'block-day')} late.", HEADING))
    before = sum(bool(day.left) for day in held.days)
    if held.by:
        page.line(f"Before it are {counted(before, 'working day')}; what ran out on them:")
    for thing, days in held.by:
        page.line(f"{_thing_said(thing)}: {counted(days, 'day')}", label=_BULLET, indent=_INDENT)
    page.blank()
    if held.courses:
        page.line("Late in this plan:")
        for each in held.courses:
            course = "" if each.course is None else f" course {each.course}"
            page.line(
                f"{each.part}{course}: needed {glued(day_name(each.needed))}, {each.late} of it late, all there "
                f"on {glued(day_name(each.there))}",
                label=_BULLET,
                indent=_INDENT,
            )
        page.blank()
    for day in held.days:
        _day(page, day)
    return page.text()


def _day(page: Page, day: HeldDay) -> None:
    """A line of a day: blocks poured, then what ran out with how much there was of it."""
    parts = [_taken_said(each.thing, each.there, cold=each.cold) for each in day.taken if each.ran_out]
    said = "; ".join(parts) if parts else "nothing ran out" if day.left else "the last blocks"
    page.line(f"{day.blocks:>3} poured; {said}", label=f"{day_name(day.day):<11}", indent=11)


_SAID: Final = {
    "rack": "the racks are full",
    "people": "nobody is free for one batch more",
    "cement": "cement is used up",
    "foaming agent": "foaming agent is used up",
    "frost": "frost before the strip",
    "heat and rain": "too hot or too wet",
    "cold": "cold: moulds would be ripe at 20 degC",
}


def _thing_said(thing: str) -> str:
    return _SAID.get(thing, f"{thing} all in use")


def _taken_said(thing: str, there: float, *, cold: bool) -> str:
    if thing in _SAID:
        return _SAID[thing]
    return f"all {there:g} {thing} full{', in the cold' if cold else ''}" if there < 1000 else thing
