"""What held back each day of a plan, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from blockrun.show.page import HEADING, Page, glued
from blockrun.show.words import counted, day_name

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.why.held import Held, HeldDay, Taken

_BULLET: Final = "-"
_INDENT: Final = 2
_LABEL: Final = 11


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
    of_moulds = {each.thing for day in held.days for each in day.taken if each.unit == "moulds"}
    for thing, days in held.by:
        page.line(f"{_thing_said(thing, of_moulds)}: {counted(days, 'day')}", label=_BULLET, indent=_INDENT)
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
    parts = [_taken_said(each) for each in day.taken if each.ran_out]
    said = "; ".join(parts) if parts else "nothing ran out" if day.left else "the last blocks"
    page.line(f"{day.blocks:>3} poured; {said}", label=f"{day_name(day.day):<{_LABEL}}", indent=_LABEL)


_SAID: Final = {
    "rack": "the racks are full",
    "stack": "the stack would be too full",
    "people": "nobody is free for one batch more",
    "cement": "cement is used up",
    "foaming agent": "foaming agent is used up",
    "frost": "frost before the strip",
    "heat and rain": "too hot or too wet",
    "cold": "cold: moulds would be ripe at 20 degC",
}


def _thing_said(thing: str, of_moulds: set[str]) -> str:
    return _SAID.get(thing, f"{thing} all full" if thing in of_moulds else f"{thing} busy all day")


def _taken_said(taken: Taken) -> str:
    """``all 8 gang-4 full, in the cold``."""
    if taken.unit != "moulds":
        return _SAID.get(taken.thing, f"{taken.thing} busy all day")
    return f"all {taken.there:g} {taken.thing} full{', in the cold' if taken.cold else ''}"
