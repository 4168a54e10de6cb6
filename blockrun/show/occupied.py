"""From when to when moulds, bases and places on racks are taken."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.full import full_of
from blockrun.planner.on_rack import OnRacks
from blockrun.site.calendar import moment_at
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind

Span = tuple[datetime, datetime]


class Occupied:
    """What is taken when."""

    def __init__(self, plan: Plan) -> None:
        self.site = plan.site
        self._full, self._on_racks = full_of(plan.tables), OnRacks(plan.tables.casts)

    def free_again(self, kind: MouldKind, day: date) -> datetime | None:
        """When the first mould of a kind is free again, if none is on a day in time for a pour; None if one is."""
        free = [self._all_taken(names, day) for names in (kind.mould_names, kind.base_names) if names]
        return max((moment for moment in free if moment is not None), default=None)

    def n_free(self, kind: MouldKind, day: date) -> int:
        """How many moulds of a kind, with a base where they have bases, are free on a day in time for a pour."""
        units = [names for names in (kind.mould_names, kind.base_names) if names]
        return min(sum(self._all_taken([name], day) is None for name in names) for names in units)

    def _all_taken(self, names: list[str], day: date) -> datetime | None:
        """When the first of some moulds is free again, where each is taken all day."""
        opening, late = self._pouring_hours(day)
        ends = [
            next((turn.free for turn in self._full.get(name, ()) if turn.since <= opening and turn.free > late), None)
            for name in names
        ]
        return None if None in ends else min(end for end in ends if end is not None)

    def _pouring_hours(self, day: date) -> Span:
        """Opening, and the last minute from which a batch could still be poured and washed up."""
        calendar = self.site.calendar
        shortest = min(mixer.pour_time_min + mixer.wash_time_min for mixer in self.site.mixers)
        return moment_at(day, calendar.begins_min), moment_at(day, calendar.ends_min - shortest)

    def racks_full(self, day: date) -> str:
        """Say that the racks have no place free at any time of a day; empty where they have."""
        opening, _ = self._pouring_hours(day)
        places = sum(rack.places for rack in self.site.racks)
        held = self._on_racks.fewest_on(day, opening)
        return f"all {counted(places, 'place')} on the racks are taken" if held >= places else ""
