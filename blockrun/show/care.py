"""What blocks that stand overnight need where no chore sees to them, and who is to come by for it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from blockrun.show.chores import wets
from blockrun.show.day import names_of
from blockrun.show.frost import frost_near
from blockrun.show.page import glued
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.show.overnight import Overnight
    from blockrun.site import Site

COME_BY: Final = "somebody must come by"


def care_said(day: Day, site: Site) -> str:
    """Say that what stands is kept damp, or only covered in frost; on a day without work, that somebody comes for it.

    Returns
    -------
    A sentence; empty where nothing stands, or where a chore of the day sees to it.
    """
    stands = day.overnight
    if not stands.curing or _is_wetted(day):
        return ""
    them = "it" if stands.curing == 1 else "them"
    care = f"keep {them} covered, do not wet {them}" if frost_near(day.day, site) else f"keep {them} damp and covered"
    coming = f"; {COME_BY}, at least once a day" if comes_for_it(day) else ""
    return f"{_stands_said(stands)} overnight: {care}{coming}."


def comes_for_it(day: Day) -> bool:
    """Whether nobody has anything else to do in the yard on a day."""
    return not (day.people and day.has_work)


def _is_wetted(day: Day) -> bool:
    return any(map(wets, names_of(day.at("chore"))))


def _stands_said(stands: Overnight) -> str:
    """``140 blocks on the racks and 20 in moulds``."""
    places = [(n, where) for n, where in ((stands.on_racks, "on the racks"), (stands.in_moulds, "in moulds")) if n]
    (n, where), *others = places
    return listed([f"{glued(counted(n, 'block'))} {where}", *(f"{glued(str(n))} {where}" for n, where in others)])
