"""A calendar as a file that phones and computers import (iCalendar, RFC 5545).

An entry is known by its site, order, kind and day, so importing the calendar of a plan made anew changes what is there
and doubles nothing. Its SEQUENCE is the moment at which the plan was made, which rises with every plan, and rises by
one where an entry has changed and the moment has not. Entries that fell away can only be cancelled by somebody who
knows of them: so the file written before is asked for.

A calendar that is published should name its organiser (RFC 5546). There is none here: nobody is invited or answered.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Final
from uuid import UUID, uuid5

from blockrun import __version__
from blockrun.errors import BadInput
from blockrun.show.calendar.kept import CANCELLED, OTHER_FILE, Kept
from blockrun.units import counted

if TYPE_CHECKING:
    from datetime import date

    from icalendar import Event

    from blockrun.planner.plan import Plan
    from blockrun.show.calendar.entry import Entry

OURS: Final = UUID("5f0c1a4e-6d1b-4d3c-9f53-2b7f0d3d8a61")
"""Names that are given to entries are made within this one (drawn once)."""

SINCE: Final = datetime(2020, 1, 1, tzinfo=UTC)
"""Moments are counted from here: they fit 32 bits until 2088. A plan of no known moment is of this one."""


@dataclass(frozen=True)
class Calendar:
    """A calendar about to be written, and what has changed since the one before."""

    entries: tuple[Kept, ...]
    made: datetime
    name: str
    new: int = 0
    changed: int = 0
    cancelled: int = 0

    @property
    def said(self) -> str:
        """``42 entries: 3 new, 2 changed, 1 cancelled``."""
        stand = sum(not kept.cancelled for kept in self.entries)
        entries = counted(stand, "entry", "entries")
        return f"{entries}: {self.new} new, {self.changed} changed, {self.cancelled} cancelled"


def calendar_of(plan: Plan, entries: Sequence[Entry], made: datetime | None, before: Iterable[Kept] = ()) -> Calendar:
    """Put entries together with those that were written before.

    Parameters
    ----------
    plan : whose entries they are.
    made : when the plan was made; one without an offset is taken as UTC.
    before : entries of the file written before; those of other orders and sites are left out.

    Returns
    -------
    The entries by day, with those that fell away marked as cancelled.

    Raises
    ------
    BadInput : there are entries before, and none of them is of this order and site.
    """
    made = SINCE if made is None else made.astimezone(UTC) if made.tzinfo else made.replace(tzinfo=UTC)
    moment = max(0, int((made - SINCE).total_seconds()))
    known = _known(plan, before)
    now = {uid: _entry(uid, entry) for entry in entries for uid in [uid_of(plan, entry.kind, entry.day)]}
    told = {uid: _following(entry, known.get(uid), moment) for uid, entry in now.items()}
    gone = {uid: kept if kept.cancelled else _gone(kept, moment) for uid, kept in known.items() if uid not in now}
    changed = [uid for uid in told if uid in known and not _same(told[uid], known[uid])]
    return Calendar(
        tuple(sorted((*told.values(), *gone.values()), key=lambda kept: kept.day)),
        made,
        f"{plan.site.name}: {plan.order.name}",
        new=len(told.keys() - known.keys()),
        changed=len(changed),
        cancelled=sum(not known[uid].cancelled for uid in gone),
    )


def ics_of(calendar: Calendar) -> bytes:
    """Write a calendar as iCalendar text: lines folded at 75 bytes and ended as the standard asks.

    Returns
    -------
    UTF-8, the same bytes for the same calendar.
    """
    from icalendar import Calendar as Component

    component = Component()
    component.add("PRODID", f"-//blockrun//blockrun {__version__}//EN")
    component.add("VERSION", "2.0")
    component.add("METHOD", "PUBLISH")
    component.add("NAME", calendar.name)
    component.add("X-WR-CALNAME", calendar.name)
    for kept in calendar.entries:
        component.add_component(_event(kept, calendar.made))
    written: bytes = component.to_ical()
    return written


def uid_of(plan: Plan, kind: str, day: date) -> str:
    """What an entry is known by: the same in every plan of an order at a site."""
    return str(uuid5(OURS, "\n".join((plan.site.name, plan.order.name, kind, day.isoformat()))))


def _known(plan: Plan, before: Iterable[Kept]) -> dict[str, Kept]:
    """Entries of this order and site, by what they are known by."""
    before = list(before)
    known = {kept.uid: kept for kept in before if kept.uid == uid_of(plan, kept.kind, kept.day)}
    if before and not known:
        raise BadInput(f"the calendar from before holds nothing of {plan.order.name} at {plan.site.name}", OTHER_FILE)
    return known


def _entry(uid: str, entry: Entry) -> Kept:
    title, *lines = (_without_backslash(words) for words in (entry.title, *entry.lines))
    return Kept(uid, 0, entry.kind, entry.day, title, "\n".join(lines), cancelled=False)


def _without_backslash(words: str) -> str:
    r"""Words with a slash for each backslash: readers take ``\N`` for the end of a line, however it is escaped."""
    return words.replace("\\", "/")


def _following(entry: Kept, before: Kept | None, moment: int) -> Kept:
    if before is None:
        return replace(entry, sequence=moment)
    return replace(entry, sequence=max(moment, before.sequence + (not _same(entry, before))))


def _same(one: Kept, other: Kept) -> bool:
    """Whether nobody would see a difference."""
    return replace(one, sequence=0) == replace(other, sequence=0)


def _gone(kept: Kept, moment: int) -> Kept:
    return replace(kept, sequence=max(moment, kept.sequence + 1), cancelled=True)


def _event(kept: Kept, made: datetime) -> Event:
    from icalendar import Event

    event = Event()
    for name, value in _properties(kept, made):
        event.add(name, value)
    return event


def _properties(kept: Kept, made: datetime) -> Iterator[tuple[str, object]]:
    yield "UID", kept.uid
    yield "DTSTAMP", made
    yield "SEQUENCE", kept.sequence
    yield "DTSTART", kept.day
    yield "SUMMARY", kept.title
    if kept.told:
        yield "DESCRIPTION", kept.told
    yield "CATEGORIES", [kept.kind]
    yield "STATUS", CANCELLED if kept.cancelled else "CONFIRMED"
    yield "TRANSP", "TRANSPARENT"
