"""What comes onto each rack on a day, what leaves it, and how full it is at night."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pandas as pd

    from blockrun.site import Site


@dataclass(frozen=True)
class RackDay:
    """One rack on one day: blocks that come on and go off, and those on it at night, of so many places."""

    rack: str
    on: int
    off: int
    at_night: int
    places: int


class Racks:
    """The racks of a plan, day by day."""

    def __init__(self, site: Site, casts: pd.DataFrame) -> None:
        self._racks = site.racks
        self._on: dict[str, Counter[date]] = defaultdict(Counter)
        self._off: dict[str, Counter[date]] = defaultdict(Counter)
        for rack, come, leave in zip(casts["rack"], casts["rack_from"], casts["rack_to"], strict=True):
            self._on[rack][come.date()] += 1
            self._off[rack][leave.date()] += 1

    def on(self, day: date) -> list[RackDay]:
        """Racks on which anything lies or lay on a day."""
        days = (self._of(rack.name, rack.places, day) for rack in self._racks)
        return [rack for rack in days if rack.on or rack.off or rack.at_night]

    def _of(self, rack: str, places: int, day: date) -> RackDay:
        come, leave = self._on[rack], self._off[rack]
        at_night = sum(n for at, n in come.items() if at <= day) - sum(n for at, n in leave.items() if at <= day)
        return RackDay(rack, come[day], leave[day], at_night, places)
