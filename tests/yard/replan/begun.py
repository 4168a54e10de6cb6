"""A job that goes on from the small plan, and what is told of it."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime, timedelta
from itertools import count

from blockrun.planner.begun import Begun
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import AnyEvent
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.went import Wrong, went

WED = datetime.fromisoformat("2027-04-07T18:00")
"""The evening of the third day: two batches were poured."""


def entries(*told: tuple[datetime, AnyEvent]) -> list[Entry]:
    number = count(1000)
    return [
        Entry(f"more {nth}", at, at.replace(tzinfo=UTC), event, nth) for at, event in told for nth in [next(number)]
    ]


def begun(kept: Kept, *told: AnyEvent, at: datetime = WED, wrong: Wrong | None = None) -> Begun:
    more = entries(*((at - timedelta(minutes=5), event) for event in told))
    return happened([kept], [*went(kept.as_planned, at, wrong), *more], at, 2, 1)


def marks(facts: Begun) -> Counter[str]:
    return Counter(block.mark for turn in facts.turns for block in turn.blocks)
