"""How many blocks are on the racks at a moment."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from blockrun.planner.rows import moments
from blockrun.site.calendar import moment_at

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

    def most(self, first: datetime, last: datetime) -> int:
        """So many are there at the fullest moment from one to just before another."""
        return max(map(self.at, [first, *_within(self._on, first, last)]))

    def most_on(self, day: date) -> int:
        """So many are there at the fullest moment of a day."""
        return self.most(*_midnights(day))

    def fewest_on(self, day: date, since: datetime) -> int:
        """So many are there at the emptiest moment of a day, counted from a moment and each time one leaves."""
        return min(map(self.at, [since, *_within(self._off, *_midnights(day))]))


def _midnights(day: date) -> tuple[datetime, datetime]:
    midnight = moment_at(day)
    return midnight, midnight + timedelta(days=1)


def _within(moments: list[datetime], first: datetime, last: datetime) -> Sequence[datetime]:
    return moments[bisect_left(moments, first) : bisect_left(moments, last)]
