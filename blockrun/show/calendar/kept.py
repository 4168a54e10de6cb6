"""The entries of a calendar file written earlier: what those who imported it have on their phones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.files.text import read_text

if TYPE_CHECKING:
    from icalendar import Component

CANCELLED: Final = "CANCELLED"
NO_CALENDAR: Final = "is no calendar of days that can be read"
OTHER_FILE: Final = "Give the file that blockrun wrote for this order before, or another name for the new one."


@dataclass(frozen=True)
class Kept:
    """One entry as it was written.

    Attributes
    ----------
    uid : what it is known by, on every phone.
    sequence : how often it had changed; one that is higher replaces one that is lower.
    kind, day, title, told : as in :class:`blockrun.show.calendar.entry.Entry`, its lines as one text.
    cancelled : it had fallen away already.
    """

    uid: str
    sequence: int
    kind: str
    day: date
    title: str
    told: str
    cancelled: bool


def read_kept(path: Path) -> list[Kept]:
    """Read all whole-day entries of a calendar file, of whatever order.

    Raises
    ------
    BadInput : there is no such file, it is no calendar, or has no such entry.
    """
    from icalendar import Calendar

    text = read_text(path)
    try:
        events = Calendar.from_ical(text).walk("VEVENT")
    except (ValueError, KeyError, AttributeError, IndexError) as error:
        raise BadInput(NO_CALENDAR, OTHER_FILE, file=path) from error
    entries = [kept for event in events if not event.errors for kept in _kept(event)]
    if not entries:
        raise BadInput(NO_CALENDAR, OTHER_FILE, file=path)
    return entries


def _kept(event: Component) -> Iterator[Kept]:
    """The entry that stands in an event, if one of ours may."""
    day, sequence = getattr(event.get("DTSTART"), "dt", None), event.get("SEQUENCE", 0)
    if isinstance(day, datetime) or not isinstance(day, date) or not isinstance(sequence, int):
        return
    yield Kept(
        str(event.get("UID", "")),
        int(sequence),
        _kind(event.get("CATEGORIES")),
        day,
        str(event.get("SUMMARY", "")),
        str(event.get("DESCRIPTION", "")),
        event.get("STATUS") == CANCELLED,
    )


def _kind(categories: object) -> str:
    """The one category of an entry of ours."""
    return ",".join(map(str, getattr(categories, "cats", ())))
