"""When something happened, as somebody types it: nothing that is recorded is still to come."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.files.days import Span
from blockrun.files.moments import moment_meant
from blockrun.yard.record.known import span_of

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned


def days_so_far(plan: AsPlanned, now: datetime) -> Span:
    """Days that people talk of without a year when they tell what happened: none to come, once the plan has begun."""
    span, today = span_of(plan, now.date()), now.date()
    return Span(span.first, today) if _has_begun(plan, now) else span


def moment_told(written: str, now: datetime, plan: AsPlanned) -> datetime:
    """The moment that is meant.

    Parameters
    ----------
    now : by the clock of the yard.

    Raises
    ------
    BadInput : it is no moment, or still to come. A plan that has not begun may be tried out, at whatever time.
    """
    moment = moment_meant(written, now, days_so_far(plan, now))
    if moment > now and _has_begun(plan, now):
        todo = f'It is {now:%Y-%m-%d %H:%M} now. Say when it happened, such as "yesterday 16:00".'
        raise BadInput(f"{moment:%Y-%m-%d %H:%M} is still to come", todo, name="--at", value=written)
    return moment


def _has_begun(plan: AsPlanned, now: datetime) -> bool:
    return now.date() >= plan.site.calendar.start
