"""What holds the plan back, as a picture: a lane for each thing that ran out, marked on the days on which it did."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.show.held import day_said, things_said
from blockrun.show.report.charts import Chart, Span, Table, lanes
from blockrun.show.report.days import Days
from blockrun.site.calendar import moment_at
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.planner.why.held import Held
    from blockrun.planner.why.taken import HeldDay
    from blockrun.site import Calendar


_LANES: Final = {"frost": "too cold to pour"}
"""Names of lanes, where the plain name of a thing would be taken for something else."""


def holding(held: Held, calendar: Calendar) -> Chart | None:
    """What ran out day by day, what did so most often first; None where nothing did."""
    if not held.by:
        return None
    first, last = held.days[0].day, held.days[-1].day
    words = things_said(held)
    spans = [
        (_LANES.get(thing, thing), [_span(day, words[thing]) for day in held.days if day.left and thing in day.held_by])
        for thing, _ in held.by
    ]
    rows = tuple((day_name(day.day), str(day.blocks), str(day.left), day_said(day)) for day in held.days)
    return lanes(
        "What ran out, day by day",
        "A mark is a day on which blocks were still to pour and the next pour had to wait for this.",
        Days(first, (last - first).days + 1, calendar),
        spans,
        Table("What held back each day", ("day", "poured", "still to pour", "what ran out"), rows, numbers=False),
    )


def _span(day: HeldDay, words: str) -> Span:
    since = moment_at(day.day)
    return Span(
        since, since + timedelta(days=1), f"{day_name(day.day)}: {words}; {counted(day.blocks, 'block')} poured"
    )
