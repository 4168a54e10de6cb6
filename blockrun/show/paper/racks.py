"""What comes onto each rack on a day, what leaves it, and how full it is at night."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from blockrun.planner.on_rack import OnRacks
from blockrun.planner.rows import moments
from blockrun.site.calendar import moment_at

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
        self._racks = [(rack, casts[casts["rack"] == rack.name]) for rack in site.racks]
        self._held = {rack.name: OnRacks(of) for rack, of in self._racks}
        self._come = {rack.name: _by_day(of["rack_from"]) for rack, of in self._racks}
        self._leave = {rack.name: _by_day(of["rack_to"]) for rack, of in self._racks}

    def on(self, day: date) -> list[RackDay]:
        """Racks on which anything lies at night, or lay on a day."""
        night = moment_at(day + timedelta(days=1))
        days = (
            RackDay(
                rack.name,
                self._come[rack.name][day],
                self._leave[rack.name][day],
                self._held[rack.name].at(night),
                rack.places,
            )
            for rack, _ in self._racks
        )
        return [rack for rack in days if rack.on or rack.off or rack.at_night]


def _by_day(column: pd.Series[Any]) -> Counter[date]:
    return Counter(moment.date() for moment in moments(column))
