"""How many blocks stand in the yard overnight and are not yet old enough to be left to themselves."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from blockrun.planner.rows import moments

if TYPE_CHECKING:
    import pandas as pd


class Overnight(NamedTuple):
    """Blocks in moulds and on bases, on racks, and on the stack until they are ready to lay."""

    in_moulds: int = 0
    on_racks: int = 0
    on_stack: int = 0

    @property
    def curing(self) -> int:
        """Those that are kept damp and covered: what has left its rack no longer is."""
        return self.in_moulds + self.on_racks


NOTHING_STANDS: Final = Overnight()


def nights_of(casts: pd.DataFrame) -> dict[date, Overnight]:
    """What stands in each night, by the day before it; no night in which nothing does."""
    in_moulds = _nights(casts["poured"], casts["strip"])
    on_racks = _nights(casts["rack_from"], casts["rack_to"])
    on_stack = _nights(casts["rack_to"], casts["ready"])
    days = sorted({*in_moulds, *on_racks, *on_stack})
    return {day: Overnight(in_moulds[day], on_racks[day], on_stack[day]) for day in days}


def _nights(since: pd.Series[Any], until: pd.Series[Any]) -> Counter[date]:
    """Blocks by the night, of each of which the first and the last moment is told."""
    changes = Counter(moment.date() for moment in moments(since))
    changes.subtract(moment.date() for moment in moments(until))
    held: Counter[date] = Counter()
    day, n = min(changes, default=date.min), 0
    while changes:
        n += changes.pop(day, 0)
        if n:
            held[day] = n
        day += timedelta(days=1)
    return held
