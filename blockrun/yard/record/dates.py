"""Days and hours hardly meant: before the plan, long after it, not worked, in the night; and years worth saying."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.units import counted
from blockrun.yard.journal.events import (
    BlocksCounted,
    Counted,
    Crushed,
    DayLost,
    Delivered,
    Event,
    Laid,
    Moved,
    PersonAway,
    Poured,
    Rejected,
    SidesOff,
    Stacked,
    Stripped,
    Thumbed,
)

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.site import Calendar

LONG_BEFORE: Final = timedelta(days=31)
"""Stock may come or be counted so long before a plan begins, and hardly sooner (our choice)."""

LONG_AFTER: Final = timedelta(days=31)
"""A yard may be so far behind its plan, and hardly more (our choice)."""

SOONER: Final = timedelta(hours=2)
LATER: Final = timedelta(hours=5)
"""Somebody may be at work so long before the yard opens, and after it closes (our choice)."""

_HALF_A_DAY: Final = timedelta(hours=12)

_OF_THE_YARD: Final = (Poured, SidesOff, Stripped, Moved, Stacked, Rejected)
_WORK: Final = (*_OF_THE_YARD, Laid)
_MEASURED: Final = (Delivered, Counted, BlocksCounted, Crushed)


def moment_doubted(events: Sequence[Event], plan: AsPlanned, at: datetime) -> Iterator[str]:
    """Anything long after the plan; measures long before it; and work on blocks before it, on days off or in the night.

    A thumb is pressed on any day and at any hour, and blocks are laid on days that are not worked in the yard.

    Parameters
    ----------
    at : when all of them happened.
    """

    def any_of(*kinds: type[Event]) -> bool:
        return any(isinstance(event, kinds) for event in events)

    outside, (first, last) = _outside(plan, at.date(), LONG_AFTER), _days_of(plan)
    too_soon = any_of(*_WORK, Thumbed) or (any_of(*_MEASURED) and at.date() < first - LONG_BEFORE)
    if outside and (too_soon or at.date() > last):
        yield f"{at:%Y-%m-%d %H:%M} {outside}. Is the day right?"
    elif any_of(*_OF_THE_YARD) and not plan.site.calendar.is_working(at.date()):
        closed = ", by the closed days of the site" if at.date() in plan.site.calendar.closed else ""
        yield f"{day_name(at.date())} is not worked{closed}. Is the day right?"
    elif any_of(*_WORK):
        yield from _night(plan.site.calendar, at)


def days_doubted(event: DayLost | PersonAway, plan: AsPlanned) -> Iterator[str]:
    """A day lost, or people away, when the plan has no day at all."""
    first, last = (event.day, event.day) if isinstance(event, DayLost) else (event.first, event.last)
    begins, ends = _days_of(plan)
    if last < begins or ends < first:
        yield f"{first} {_outside(plan, first)}: no plan minds it. Is the day right?"


def years_of(plan: AsPlanned) -> range:
    """Years that go without saying: those in which a plan has days."""
    first, last = _days_of(plan)
    return range(first.year, last.year + 1)


def _days_of(plan: AsPlanned) -> tuple[date, date]:
    """The first day of a plan, and the last on which blocks become ready."""
    return plan.site.calendar.start, plan.last_ready


def _outside(plan: AsPlanned, day: date, grace: timedelta = timedelta()) -> str:
    """Say by how much a day lies outside those of a plan; empty where it does not.

    Parameters
    ----------
    grace : that may pass after the last.
    """
    first, last = _days_of(plan)
    if day < first:
        return f"is {counted((first - day).days, 'day')} before the plan begins, on {first}"
    return f"is {counted((day - last).days, 'day')} after the plan ends, on {last}" if day > last + grace else ""


def _night(calendar: Calendar, at: datetime) -> Iterator[str]:
    midnight = datetime.combine(at.date(), time())
    opens, closes = (midnight + timedelta(minutes=minute) for minute in (calendar.open_min, calendar.close_min))
    if opens - SOONER <= at <= closes + LATER:
        return
    when = "before" if at < opens else "after"
    meant = at + _HALF_A_DAY
    asked = f"Was it {meant:%H:%M}?" if opens <= meant <= closes else "Is the time right?"
    yield f"{at:%Y-%m-%d %H:%M} is long {when} the hours worked, {opens:%H:%M} to {closes:%H:%M}. {asked}"
