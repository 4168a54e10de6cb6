"""What is reckoned once for all that is typed: ages while air, lost days and cubes stay the same; what was weighed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import Crushed
from blockrun.yard.now import State

if TYPE_CHECKING:
    from collections.abc import Hashable

    from blockrun.mix.off_card import OffCard
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.ready.ripe import Ripe


class Ripening:
    """Keeps the last that was asked for: a sheet of many rows asks for the same again and again.

    Attributes
    ----------
    against : what speaks against pours, as `blockrun.yard.ready.apart.set_apart` found it.
    """

    def __init__(self) -> None:
        self.against: dict[str, OffCard | None] = {}
        self._key: Hashable = None
        self._ripe: Ripe | None = None

    def at(self, plan: AsPlanned, state: State, told: Iterable[Entry]) -> Ripe:
        """By the air and the lost days of a state, and cubes crushed.

        Parameters
        ----------
        told : what stands of the journal until the moment of the state.
        """
        crushed = [one for one in told if isinstance(one.event, Crushed)]
        air = tuple((day, seen.min_degc, seen.max_degc) for day, seen in sorted(state.air.items()))
        key = (plan.id, air, frozenset(state.lost), tuple(one.key for one in crushed))
        if self._ripe is None or key != self._key:
            self._key, self._ripe = key, _ripe(plan, state, crushed)
        return self._ripe


def _ripe(plan: AsPlanned, state: State, crushed: Sequence[Entry]) -> Ripe:
    from blockrun.yard.ready.air import site_as_it_went
    from blockrun.yard.ready.cubes import RecordedCubes
    from blockrun.yard.ready.ripe import Ripe

    site = site_as_it_went(plan.site, state.air, frozenset(state.lost))
    return Ripe(plan, site, RecordedCubes(site, crushed))
