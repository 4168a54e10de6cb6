"""Words for what the plan has and nobody recorded, and for days of work on which nobody is there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.planner.morning import NEVER
from blockrun.show.page import glued
from blockrun.show.words import moment_said, named_together
from blockrun.units import counted, listed

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
    waiting: dict[str, list[Undone]] = {}
    for one in sorted(_waiting(progress.undone), key=lambda one: one.until or NEVER):
        waiting.setdefault(_put_off(one), []).append(one)
    yield from (f"{said}: {_places(alike)}" for said, alike in waiting.items())


def _waiting(undone: Sequence[Undone]) -> list[Undone]:
    return [one for one in undone if not one.is_old_enough]


def _put_off(one: Undone) -> str:
    """By what something waits, and until when."""
    if one.by_thumb:
        until = f" to {moment_said(one.until)}" if one.until else ", never old enough at that pace"
        return f"put off by a thumb test{until}"
    return f"put off, not old enough {f'before {moment_said(one.until)}' if one.until else 'yet'}"


def put_off_counted(undone: Sequence[Undone]) -> Iterator[str]:
    """``2 strips put off by thumb tests, the last to Wed 7 Apr 08:00``; then those that wait without a thumb."""
    thumbed = [one for one in _waiting(undone) if one.by_thumb]
    if thumbed:
        times = {one.until for one in thumbed}
        last = max((until for until in times if until), default=None)
        to = f", {'the last ' * (len(times) > 1)}to {moment_said(last)}" if last else ""
        yield f"{undone_counted(thumbed)} put off by {'a thumb test' if len(thumbed) == 1 else 'thumb tests'}{to}"
    if others := [one for one in _waiting(undone) if not one.by_thumb]:
        yield f"{undone_counted(others)} put off, not old enough"


def _places(undone: Sequence[Undone]) -> str:
    of = {job: [one.place for one in undone if one.job == job] for job in ("strip", "sides")}
    words = {"strip": counted(len(of["strip"]), "strip").split()[-1], "sides": "sides"}
    return listed([f"{words[job]} of {named_together(places)}" for job, places in of.items() if places])


def nobody_said(days: Sequence[date]) -> str:
    """``Fri 9 Apr and Sat 10 Apr``."""
    more = len(days) - DAYS_SHOWN
    return listed([*(glued(day_name(day)) for day in days[:DAYS_SHOWN]), *([f"{more} more"] if more > 0 else [])])
