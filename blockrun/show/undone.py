"""Words for what the plan has and nobody recorded, and for days of work on which nobody is there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.show.page import glued
from blockrun.show.words import counted, day_name, named_together
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.planner.progress import Progress, Undone

DAYS_SHOWN: Final = 3
"""Days on which nobody is there that are named; of more it is said how many (our choice)."""


def undone_counted(undone: Sequence[Undone]) -> str:
    """``12 strips and 2 sides``."""
    strips = sum(one.job == "strip" for one in undone)
    sides = len(undone) - strips
    said = [counted(strips, "strip")] if strips else []
    return listed([*said, f"sides of {counted(sides, 'mould')}"] if sides else said)


def undone_said(progress: Progress, day: str) -> Iterator[str]:
    """Strips and sides that may be done all the same; then those that rightly wait."""
    open_yet = [one for one in progress.undone if one.is_old_enough]
    if open_yet:
        due = min(one.due for one in open_yet)
        on = "" if due == progress.at.date() else f" --on {due}"
        yield f"not recorded: {_places(open_yet)}; {day}{on} asks"
    waiting = [one for one in progress.undone if not one.is_old_enough]
    if waiting:
        yield f"put off, not old enough yet: {_places(waiting)}"


def _places(undone: Sequence[Undone]) -> str:
    of = {job: [one.place for one in undone if one.job == job] for job in ("strip", "sides")}
    words = {"strip": counted(len(of["strip"]), "strip").split()[-1], "sides": "sides"}
    return listed([f"{words[job]} of {named_together(places)}" for job, places in of.items() if places])


def nobody_said(days: Sequence[date]) -> str:
    """``Fri 9 Apr and Sat 10 Apr``."""
    more = len(days) - DAYS_SHOWN
    return listed([*(glued(day_name(day)) for day in days[:DAYS_SHOWN]), *([f"{more} more"] if more > 0 else [])])
