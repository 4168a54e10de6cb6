"""When blocks are old enough, reckoned once for all that is typed while air, lost days and cubes stay the same."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import Crushed
from blockrun.yard.now import State

if TYPE_CHECKING:
    from collections.abc import Hashable

    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.ready.ripe import Ripe


class Ripening:
    """Keeps the last that was asked for: a sheet of many rows asks for the same again and again."""

    def __init__(self) -> None:
        self._key: Hashable = None
        self._ripe: Ripe | None = None

    def at(self, plan: AsPlanned, state: State, entries: Sequence[Entry], at: datetime) -> Ripe:
        """By the air and the lost days of a state, and cubes crushed until a moment.

        Parameters
        ----------
        entries : of the journal.
        """
        crushed = _crushed(entries, at)
        air = tuple((day, seen.min_degc, seen.max_degc) for day, seen in sorted(state.air.items()))
        key = (plan.id, air, frozenset(state.lost), tuple(one.key for one in crushed))
        if self._ripe is None or key != self._key:
            self._key, self._ripe = key, _ripe(plan, state, crushed)
        return self._ripe


def _crushed(entries: Sequence[Entry], at: datetime) -> list[Entry]:
    if not any(isinstance(one.event, Crushed) for one in entries):
        return []  # what stands is found by looking at all
    return [one for one in standing(entries) if one.happened <= at and isinstance(one.event, Crushed)]


def _ripe(plan: AsPlanned, state: State, crushed: Sequence[Entry]) -> Ripe:
    from blockrun.yard.ready.air import site_as_it_went
    from blockrun.yard.ready.cubes import RecordedCubes
    from blockrun.yard.ready.ripe import Ripe

    site = site_as_it_went(plan.site, state.air, frozenset(state.lost))
    return Ripe(plan, site, RecordedCubes(site, crushed))
