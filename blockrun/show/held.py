"""What held back each day of a plan, in words."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.show.page import HEADING, Page, glued
from blockrun.units import counted

if TYPE_CHECKING:
    from collections.abc import Container
    from datetime import date

    from rich.text import Text

    from blockrun.planner.why.held import Held, LateCourse
    from blockrun.planner.why.taken import HeldDay, Taken

_LABEL: Final = 11
_NO_TIME: Final = "has no time for one batch more"


Course = tuple[str, "int | None", "date"]


def held_text(held: Held, late: int, width: int, told: Container[Course] = (), units: str = "SI") -> Text:
    """Write what held back each day of a plan, what did so most often first.

    Parameters
    ----------
    late : its block-days late.
    told : courses that are said to be late already, each by its part, number and the day it is needed.
    """
    page = Page(width, units)
    page.line((f"Last pour {day_name(held.days[-1].day)}, {counted(late, 'block-day')} late.", HEADING))
    if held.by:
        page.line(days_before_said(held))
    things = things_said(held)
    for thing, days in held.by:
        page.item(f"{things[thing]}: {counted(days, 'day')}")
    page.blank()
    courses = [each for each in held.courses if (each.part, each.course, each.needed) not in told]
    if courses:
        page.line("Late in this plan:" if len(courses) == len(held.courses) else "Late in this plan, besides those:")
        for each in courses:
            page.item(late_said(each))
        page.blank()
    if held.since:
        page.line(f"Before {day_name(held.since)} good blocks alone are counted: what broke or was rejected is not.")
    for (blocks, said), alike in groupby(held.days, lambda day: (day.blocks, day_said(day))):
        _days(page, [day.day for day in alike], blocks, said)
    return page.text()


def _days(page: Page, days: list[date], blocks: int, said: str) -> None:
    """A line of a day, or of some that were the same: blocks poured on each, then what ran out."""
    many = "" if len(days) == 1 else f" each day to {glued(day_name(days[-1]))}"
    page.line(f"{blocks:>3} poured{many}; {said}", label=f"{day_name(days[0]):<{_LABEL}}", indent=_LABEL)


def days_before_said(held: Held) -> str:
    """Say on how many days something may have run out."""
    before = sum(bool(day.left) for day in held.days)
    are, them = ("is", "it") if before == 1 else ("are", "them")
    return f"Before it {are} {counted(before, 'working day')}; what ran out on {them}:"


def things_said(held: Held) -> dict[str, str]:
    """Words for each thing that ran out, as of all its days: ``gang-4 all full``."""
    of_moulds = {each.thing for day in held.days for each in day.taken if each.unit == "moulds"}
    said = {thing: _thing_said(thing, of_moulds) for thing, _ in held.by}
    if held.stack and "stack" in said:
        high = f"{counted(held.stack.places, 'place')}, {counted(held.stack.layers, 'layer')} high"
        said["stack"] += f" ({high})"
    return said


def late_said(late: LateCourse) -> str:
    """Say when a late course is needed, how much of it is late, and when all of it is there."""
    course = "" if late.course is None else f" course {late.course}"
    return (
        f"{late.part}{course}: needed {glued(day_name(late.needed))}, {late.late} of it late, all there "
        f"on {glued(day_name(late.there))}"
    )


def day_said(day: HeldDay) -> str:
    """What ran out, with how much there was of it."""
    if not day.left:
        return "the last blocks"
    return "; ".join(_taken_said(each) for each in day.taken if each.ran_out) or "nothing ran out"


_SAID: Final = {
    "rack": "the racks are full",
    "stack": "the stack would be too full",
    "people": "nobody is free for one batch more",
    "cement": "cement is used up",
    "foaming agent": "foaming agent is used up",
    "frost": "too cold to pour: air under the least of the yard before the strip",
    "heat and rain": "too hot or too wet",
    "hot hours": "too hot for hours to pour a mix while it keeps",
    "cold": "cold: moulds set so slowly that they are waited for",
}


def _thing_said(thing: str, of_moulds: set[str]) -> str:
    return _SAID.get(thing, f"{thing} all full" if thing in of_moulds else f"{thing} {_NO_TIME}")


def _taken_said(taken: Taken) -> str:
    """``all 8 gang-4 full, in the cold``."""
    if taken.unit != "moulds":
        return _SAID.get(taken.thing, f"{taken.thing} {_NO_TIME}")
    number = "the one" if taken.there == 1 else f"all {taken.there:g}"
    return f"{number} {taken.thing} full{', in the cold' if taken.cold else ''}"
