"""Which clock tells the age of blocks in each kind of mould: that of the air, or one that knows their own warmth."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.cure import AgeClock
from blockrun.cure.heat import Cast
from blockrun.cure.warm import Contents, WarmClock, cast_in
from blockrun.order.castable import castable
from blockrun.planner.mixes import mix_proportions

if TYPE_CHECKING:
    from datetime import datetime

    from blockrun.mix import Proportions
    from blockrun.order import Order, OrderLine
    from blockrun.site import MouldKind, Site

Clock = AgeClock | WarmClock


class Clocks:
    """Clocks of the moulds of a site.

    Parameters
    ----------
    site : with its weather, and whether the heat of blocks is modelled.
    lines : all blocks ordered; with their own heat, a mould is as slow as the least favourable mix and the shortest
        block among them make it.
    days : to prepare at once.
    """

    def __init__(self, site: Site, order: Order, lines: Iterable[OrderLine], days: int = 14) -> None:
        self.air = AgeClock.of(site, days)
        self._site = site
        self._order = order
        self._lines = tuple(lines)
        self._warm: dict[str, WarmClock] = {}

    @property
    def modelled(self) -> bool:
        """Whether blocks have a warmth of their own."""
        return self._site.curing.heat == "modelled"

    def of(self, kind: MouldKind) -> Clock:
        """The clock of what stands in moulds of a kind."""
        if not self.modelled:
            return self.air
        if kind.kind not in self._warm:
            self._warm[kind.kind] = WarmClock(self._site, tuple(self.casts(kind).values()))
        return self._warm[kind.kind]

    def ripe_min(self, kind: MouldKind, poured: datetime, hours: float) -> int:
        """The minute of the calendar at which what is poured at a moment is of an age in hours at 20 degC."""
        return int(self.of(kind).when(self._site.calendar.minute_of(poured), hours))

    def casts(self, kind: MouldKind, length_mm: float | None = None) -> dict[str, Cast]:
        """What a mould of a kind may hold, by its mix: the shortest block it casts of those ordered, unless told."""
        lengths = [line.length_mm for line in self._lines if not kind.saw and castable(kind, line)]
        length = min(lengths, default=kind.length_mm) if length_mm is None else length_mm
        return {mix: cast_in(kind, length, _contents(made), self._site) for mix, made in self._mixes.items()}

    @cached_property
    def _mixes(self) -> Mapping[str, Proportions]:
        ordered = {line.mix for line in self._lines}
        return {mix: made for mix, made in mix_proportions(self._site, self._order).items() if mix in ordered}


def _contents(mix: Proportions) -> Contents:
    return Contents(mix.cement_kg, mix.total_water_kg, mix.further_kg)
