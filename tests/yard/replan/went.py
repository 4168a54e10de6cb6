"""A plan as it went: entries of a journal for all that it has until a moment, and for what went wrong besides."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, fields
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path
from random import Random
from typing import Any

import pandas as pd

from blockrun.planner.as_planned import AsPlanned, PlannedCast
from blockrun.planner.plan import Plan
from blockrun.planner.rows import rows_of
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import (
    AnyEvent,
    Blocks,
    DayLost,
    Fill,
    MouldOut,
    Moved,
    Poured,
    Rejected,
    SidesOff,
    Stripped,
)


@dataclass
class Wrong:
    """What goes otherwise than planned.

    Attributes
    ----------
    flat : batches that are thrown out of their moulds an hour after the pour.
    not_made : batches that are not poured at all.
    broken : turns, by mould and number, of which the first block breaks at the strip.
    late : minutes by which turns are stripped late.
    out, lost : a mould that breaks, and a day on which nobody comes; told with the first pour.
    """

    flat: set[int] = field(default_factory=set)
    not_made: set[int] = field(default_factory=set)
    broken: set[tuple[str, int]] = field(default_factory=set)
    late: dict[tuple[str, int], int] = field(default_factory=dict)
    out: str = ""
    lost: date | None = None

    @classmethod
    def by_chance(cls, plan: AsPlanned, dice: Random, share: float = 0.15) -> Wrong:
        """So much of everything goes wrong."""
        turns = sorted({(cast.mould, cast.turn) for cast in plan.casts})
        made = sorted(plan.batches)
        flat = {batch for batch in made if dice.random() < share}
        return cls(
            flat,
            {batch for batch in made if batch not in flat and dice.random() < share},
            {turn for turn in turns if dice.random() < share},
            {turn: dice.randrange(5, 300) for turn in turns if dice.random() < share},
            dice.choice(turns)[0] if dice.random() < share else "",
            dice.choice(plan.casts).poured.date() + timedelta(days=1) if dice.random() < share else None,
        )


def as_planned_of(plan: Plan) -> AsPlanned:
    """A plan that lies in no folder, as the yard knows it."""
    rows = rows_of(plan.tables.casts)
    casts = tuple(PlannedCast(**{name: _cell(getattr(row, name)) for name in _FIELDS}) for row in rows)
    return AsPlanned(Path("nowhere"), plan.site, {}, casts)


_FIELDS = [one.name for one in fields(PlannedCast)]


def _cell(value: Any) -> Any:
    return None if value is pd.NA else value


def went(plan: AsPlanned, until: datetime, wrong: Wrong | None = None) -> list[Entry]:
    """All that was recorded until a moment, in order."""
    events = sorted(_events(plan, wrong or Wrong()), key=lambda one: (one[0], one[1]))
    number = count(1)
    return [
        Entry(f"k{nth}", at, at.replace(tzinfo=UTC), event, nth)
        for at, _, event in events
        if at <= until and (nth := next(number))
    ]


def _events(plan: AsPlanned, wrong: Wrong) -> Iterator[tuple[datetime, int, AnyEvent]]:
    for number, casts in plan.batches.items():
        if number not in wrong.not_made:
            yield casts[0].poured, 1, Poured(batch=number, plan=plan.id, mix=casts[0].mix, fills=tuple(_fills(casts)))
            if number in wrong.flat:
                for mould, there in _by_place(casts).items():
                    at = casts[0].poured + timedelta(hours=1)
                    yield at, 2, Rejected(place="mould", name=mould, blocks=_blocks(there), why="went flat")
    first = min(cast.poured for cast in plan.casts)
    if wrong.out:
        yield first, 3, MouldOut(mould=wrong.out)
    if wrong.lost:
        yield first, 3, DayLost(day=wrong.lost)
    turns: dict[tuple[str, int], list[PlannedCast]] = {}
    for cast in plan.casts:
        if cast.batch not in wrong.flat | wrong.not_made:
            turns.setdefault((cast.mould, cast.turn), []).append(cast)
    for turn, casts in turns.items():
        yield from _emptied(turn, casts, wrong)


def _emptied(turn: tuple[str, int], casts: list[PlannedCast], wrong: Wrong) -> Iterator[tuple[datetime, int, AnyEvent]]:
    first, late = casts[0], timedelta(minutes=wrong.late.get(turn, 0))
    if first.sides_off is not None:
        yield first.sides_off, 0, SidesOff(mould=first.mould, base=first.base)
    broken = casts[:1] if turn in wrong.broken else []
    whole = casts[len(broken) :]
    strip = Stripped(mould=first.mould, base=first.base, whole=_blocks(whole), broken=_blocks(broken))
    yield first.strip + late, -2, strip
    if whole:
        yield first.strip + late, -1, Moved(rack=first.rack, blocks=_blocks(whole), mould=first.place)


def _blocks(casts: Iterable[PlannedCast]) -> tuple[Blocks, ...]:
    counts = Counter((cast.mark, cast.mix) for cast in casts)
    return tuple(Blocks(mark=mark, mix=mix, count=number) for (mark, mix), number in sorted(counts.items()))


def _by_place(casts: Iterable[PlannedCast]) -> dict[str, list[PlannedCast]]:
    found: dict[str, list[PlannedCast]] = {}
    for cast in casts:
        found.setdefault(cast.place, []).append(cast)
    return found


def _fills(casts: Iterable[PlannedCast]) -> Iterator[Fill]:
    for there in _by_place(casts).values():
        marks = {cast.cavity: cast.mark for cast in there}
        row = tuple(marks.get(cavity, "") for cavity in range(1, max(marks) + 1))
        yield Fill(mould=there[0].mould, base=there[0].base, marks=row)
