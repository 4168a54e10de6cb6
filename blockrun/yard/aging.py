"""How old blocks are in the moulds of a plan, in the air as it went: by it alone, or by their own warmth too."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.cure import AgeClock

if TYPE_CHECKING:
    from datetime import datetime

    from blockrun.order import Order
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.planner.clocks import Clock, Clocks
    from blockrun.site import MouldKind, Site


class Aging:
    """Clocks of the moulds of a plan; what was poured before its first day is taken as poured then.

    Parameters
    ----------
    plan : by which blocks were cast; its order is read only where blocks have a warmth of their own.
    site : of it, in the air as it went.
    """

    def __init__(self, plan: AsPlanned, site: Site) -> None:
        self._plan, self._site = plan, site

    def age_h(self, kind: MouldKind, poured: datetime, at: datetime) -> float:
        """Hours at 20 degC that blocks have at a moment in a mould of a kind."""
        poured_min, at_min = (self._site.calendar.minute_of(moment) for moment in (poured, at))
        if self._clocks is None:
            return self.air.age_h(poured_min, at_min)
        from blockrun.cure.aged import warm_age_h

        return warm_age_h(self._site, self._clocks.casts(kind).values(), poured_min, at_min)

    def clock(self, kind: MouldKind) -> Clock:
        """The clock of what stands in moulds of a kind."""
        return self.air if self._clocks is None else self._clocks.of(kind)

    @cached_property
    def air(self) -> AgeClock:
        """The clock of blocks that are as warm as the air."""
        return AgeClock.of(self._site)

    @cached_property
    def order(self) -> Order:
        """Of the plan."""
        from blockrun.order import load_order

        return load_order(self._plan.order[""], files=self._plan.order)

    @cached_property
    def _clocks(self) -> Clocks | None:
        """Clocks that know the heat of blocks; None where these are as warm as the air."""
        if self._site.curing.heat != "modelled":
            return None
        from blockrun.order import takeoff
        from blockrun.planner.clocks import Clocks

        return Clocks(self._site, self.order, takeoff(self.order, self._site.calendar, self._site.moulds))
