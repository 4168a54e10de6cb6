"""Batches poured of those planned, and the day of the last pour at the pace so far."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.planner.hot_pours import hot_pours
from blockrun.planner.progress import Batches
from blockrun.planner.saved_rows import planned_batches

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.site import Calendar
    from blockrun.yard.now import State

ENOUGH: Final = 5
"""With fewer batches poured nothing is said of a pace (our choice)."""


def poured_of(plan: AsPlanned, state: State) -> dict[int, list[datetime]]:
    """When each batch of a plan was poured, by its number; those that were not left out."""
    recorded = {number: plan.recorded_as(number) for number in plan.pours}
    return {number: state.poured[name] for number, name in recorded.items() if name in state.poured}


def batches_of(plan: AsPlanned, state: State, at: datetime) -> Batches:
    """How many batches were poured of those planned until a moment, and how far behind that is."""
    poured = poured_of(plan, state)
    planned = plan.pours
    first, last = min(planned.values()), max(planned.values())
    due = sum(moment <= at for moment in planned.values())
    missing = ((moment, number) for number, moment in planned.items() if moment <= at and number not in poured)
    # of a day that was lost everybody knows that nothing was poured
    open_yet = sorted(one for one in missing if one[0].date() not in state.lost)
    found = Batches(
        poured=len(poured),
        due=due,
        in_all=len(planned),
        again=sum(map(len, {plan.recorded_as(number): times for number, times in poured.items()}.values()))
        - len(poured),
        open=tuple((number, moment.date()) for moment, number in open_yet),
        first=first,
        last=last.date(),
        a_day=len(planned) / (n_working(plan.site.calendar, first.date(), last.date()) + 1),
        last_at_pace=None,
        of_others=tuple(_of_others(plan, state)),
    )
    return replace(found, last_at_pace=_last_at_pace(plan.site.calendar, found, at))


def _of_others(plan: AsPlanned, state: State) -> Iterator[tuple[int, date]]:
    own = {plan.recorded_as(number) for number in plan.pours}
    for (by, number), times in state.poured.items():
        if by and (by, number) not in own:
            yield number, times[-1].date()


def still_due(plan: AsPlanned, state: State, at: datetime) -> dict[int, datetime]:
    """When each batch that nobody poured yet will be, by its number, at the soonest.

    As planned; what is overdue from today on, and no day takes more batches than the fullest of the plan.
    """
    poured, calendar = poured_of(plan, state), plan.site.calendar
    planned = sorted((casts[0].poured, number) for number, casts in plan.batches.items())
    a_day = max(Counter(moment.date() for moment, _ in planned).values())
    today = calendar.next_working_day(at.date())
    left = [(moment, number) for moment, number in planned if number not in poured]
    found = {}
    for index, (moment, number) in enumerate(left):
        soonest = calendar.next_working_day(today, index // a_day)
        found[number] = moment if moment.date() >= soonest else datetime.combine(soonest, moment.time())
    return {number: max(moment, at) for number, moment in found.items()}


def hot_to_come(plan: AsPlanned, state: State, at: datetime) -> Iterator[tuple[int, date]]:
    """Batches not poured yet that heat leaves no time to pour when the plan has them, and the days of their pours."""
    poured = poured_of(plan, state)
    to_come = (one for one in planned_batches(plan.directory) if one.foam_at >= at and one.batch not in poured)
    return ((one.batch, one.start.date()) for one in hot_pours(plan.site, to_come))


def n_working(calendar: Calendar, first: date, last: date) -> int:
    """Working days from one day to another, the latter not counted; none where it comes before."""
    return sum(calendar.is_working(first + timedelta(days=day)) for day in range((last - first).days))


def _last_at_pace(calendar: Calendar, batches: Batches, at: datetime) -> date | None:
    """The last pour, if of what is left no larger share is poured in time than so far; see `Batches`."""
    if batches.behind <= 0 or batches.poured < ENOUGH:
        return None
    left, planned_left = batches.in_all - batches.poured, batches.in_all - batches.due
    more = left * batches.due / batches.poured - planned_left
    from_day = calendar.next_working_day(max(batches.last, at.date()))
    return calendar.next_working_day(from_day, math.ceil(more / batches.a_day))
