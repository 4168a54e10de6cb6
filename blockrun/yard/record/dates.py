"""Days and hours that are hardly meant: before the plan, long after it, or in the night; and years worth saying."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.yard.journal.events import (
    DayLost,
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

LONG_AFTER: Final = timedelta(days=31)
"""A yard may be so far behind its plan, and hardly more (our choice)."""

SOONER: Final = timedelta(hours=2)
LATER: Final = timedelta(hours=5)
"""Somebody may be at work so long before the yard opens, and after it closes (our choice)."""

_HALF_A_DAY: Final = timedelta(hours=12)

_WORK: Final = (Poured, SidesOff, Stripped, Moved, Stacked, Laid, Rejected)


def moment_doubted(events: Sequence[Event], plan: AsPlanned, at: datetime) -> Iterator[str]:
    """Anything long after the plan, and work on blocks before it or in the night; a thumb is pressed at any hour.

    Parameters
    ----------
    at : when all of them happened.
    """
    outside = _outside(plan, at.date(), LONG_AFTER)
    is_work = any(isinstance(event, (*_WORK, Thumbed)) for event in events)
    if outside and (is_work or at.date() > _days_of(plan)[1]):
        yield f"{at:%Y-%m-%d %H:%M} {outside}. Is the day right?"
    elif any(isinstance(event, _WORK) for event in events):
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
    first = plan.site.calendar.start
    return first, max((cast.ready.date() for cast in plan.casts), default=first)


def _outside(plan: AsPlanned, day: date, grace: timedelta = timedelta()) -> str:
    """Say by how much a day lies outside those of a plan; empty where it does not.

    Parameters
    ----------
    grace : that may pass after the last.
    """
    first, last = _days_of(plan)
    if day < first:
        return f"is {_counted(first - day)} before the plan begins, on {first}"
    return f"is {_counted(day - last)} after the plan ends, on {last}" if day > last + grace else ""


def _counted(between: timedelta) -> str:
    return f"{between.days} day{'s' * (between.days != 1)}"


def _night(calendar: Calendar, at: datetime) -> Iterator[str]:
    midnight = datetime.combine(at.date(), time())
    opens, closes = (midnight + timedelta(minutes=minute) for minute in (calendar.open_min, calendar.close_min))
    if opens - SOONER <= at <= closes + LATER:
        return
    when = "before" if at < opens else "after"
    meant = at + _HALF_A_DAY
    asked = f"Was it {meant:%H:%M}?" if opens <= meant <= closes else "Is the time right?"
    yield f"{at:%Y-%m-%d %H:%M} is long {when} the hours worked, {opens:%H:%M} to {closes:%H:%M}. {asked}"
