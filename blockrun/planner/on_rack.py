"""How many blocks are on the racks at a moment."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from blockrun.planner.moments import moments

if TYPE_CHECKING:
    import pandas as pd


class OnRacks:
    """Blocks on racks over time; a block is on its rack from ``rack_from`` until just before ``rack_to``.

    Parameters
    ----------
    casts : rows of a plan's casts, of all racks or of one.
    """

    def __init__(self, casts: pd.DataFrame) -> None:
        self._on: list[datetime] = sorted(moments(casts["rack_from"]))
        self._off: list[datetime] = sorted(moments(casts["rack_to"]))

    def at(self, moment: datetime) -> int:
        """So many are there at a moment."""
        return bisect_right(self._on, moment) - bisect_right(self._off, moment)

    def most(self, day: date) -> int:
        """So many are there at the fullest moment of a day."""
        return max(map(self.at, [_midnight(day), *_of_day(self._on, day)]))

    def fewest(self, day: date, since: datetime) -> int:
        """So many are there at the emptiest moment of a day, counted from a moment and each time one leaves."""
        return min(map(self.at, [since, *_of_day(self._off, day)]))

    def comes_after(self, day: date) -> bool:
        """Whether a block comes to a rack after a day."""
        return bool(self._on) and self._on[-1].date() > day


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time())


def _of_day(moments: list[datetime], day: date) -> Sequence[datetime]:
    start, end = (bisect_left(moments, _midnight(day + timedelta(days=n))) for n in (0, 1))
    return moments[start:end]
