"""Work that a plan sets no people and no time aside for: carrying blocks off the rack, sawing and hollowing them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.planner.rows import rows_of
from blockrun.show.page import glued
from blockrun.show.sawing import AS_CAST, work_on_each
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def not_in_hours_said(plan: Plan) -> str:
    """Say what of it there is, each with its busiest day that is still to come; empty where there is none."""
    said = [f"{work} ({_busiest(of)})" for work, of in _blocks_by_day(plan) if of]
    if not said:
        return ""
    them = "it" if len(said) == 1 else "them"
    return f"{listed(said)}: give {them} people of their own, or write a chore"


def _busiest(of: Counter[date]) -> str:
    """``up to 68 blocks a day, Thu 14 Oct``: the first of the busiest days."""
    day = min(of, key=lambda day: (-of[day], day))
    return f"up to {glued(counted(of[day], 'block'))} a day, {glued(day_name(day))}"


def _blocks_by_day(plan: Plan) -> Iterator[tuple[str, Counter[date]]]:
    """Blocks leave their rack when its time is over, and are sawn and hollowed once they are stripped."""
    rows = rows_of(plan.tables.casts)
    works = work_on_each(plan.ordered, rows)
    since = plan.begun.since if plan.begun else None
    coming = [row for row in rows if since is None or row.strip >= since]
    carried = [row.rack_to for row in rows if row.rack_to > row.rack_from and (since is None or row.rack_to >= since)]
    yield "carrying off the rack", Counter(moment.date() for moment in carried)
    yield "sawing", Counter(row.strip.date() for row in coming if works.get(row.cast, AS_CAST).saw)
    yield "hollowing troughs", Counter(row.strip.date() for row in coming if works.get(row.cast, AS_CAST).trough)
