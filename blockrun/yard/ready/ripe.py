"""Since when what stands in a mould may be stripped, and since when blocks leave a rack and may be laid."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from blockrun.cure import AgeClock
from blockrun.cure.age import NEVER
from blockrun.cure.felt import DECIMALS, Felt, Press
from blockrun.cure.thumb import Pressed, Thumb
from blockrun.planner.ages import Ages
from blockrun.site import Strength

if TYPE_CHECKING:
    from blockrun.cure.frozen import FrozenHours
    from blockrun.order import Order
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.planner.clocks import Clock, Clocks
    from blockrun.site import Calendar, MouldKind, Site
    from blockrun.yard.now import Lot, Standing

_MINUTE = timedelta(minutes=1)


class Ripe:
    """When blocks are old enough.

    Parameters
    ----------
    plan : by which they were cast.
    site : of it, in the air as it went.
    """

    def __init__(self, plan: AsPlanned, site: Site) -> None:
        self._plan, self._site = plan, site
        self._midnight = datetime.combine(site.calendar.start, time())

    @property
    def calendar(self) -> Calendar:
        """When the yard works, lost days left out."""
        return self._site.calendar

    def strip(self, here: Standing) -> datetime | None:
        """Since when a mould, or a base, may be stripped; None where it never may."""
        curing = self._site.curing
        held = isinstance(curing.strip_at_h, Strength) or isinstance(curing.move_at_h, Strength)
        return self._moment(self._felt(here).strip(self._clock(self._plan.kind_of(here.mould)), held=held))

    def sides(self, here: Standing) -> datetime | None:
        """Since when its sides may come off; None where there are none, they are off, or never may."""
        kind = self._plan.kind_of(here.mould)
        if not here.sides_on or kind.sides_off_at_h is None:
            return None
        sides_h, felt = self._ages.sides_h(kind), self._felt(here)
        assert sides_h is not None
        held = isinstance(kind.sides_off_at_h, Strength)
        return self._moment(felt.sides(self._clock(kind), sides_h, felt.counted, held=held))

    def off_rack(self, since: datetime) -> datetime:
        """When blocks leave a rack to which they came at a moment."""
        return self._site.calendar.next_working_minute(since + timedelta(minutes=self._site.curing.rack_for_min))

    def lay(self, lot: Lot) -> datetime | None:
        """Since when blocks are old enough to be laid; None where they never are."""
        if self._ages.lay_h is None:
            return lot.poured + timedelta(minutes=self._ages.lay_min)
        return self._moment(self._air.when(self._minute(lot.poured), self._ages.lay_h))

    def _felt(self, here: Standing) -> Felt:
        """What the thumbs pressed into it tell."""
        kind, poured = self._plan.kind_of(here.mould), self._minute(here.poured)
        pressed = [(self._minute(at), _thumb(shows)) for at, shows in here.thumbs if at > here.poured]
        aged = [(at, self._age_h(kind, poured, at), thumb) for at, thumb in pressed]
        presses = [Press(at, Pressed(age_h, thumb)) for at, age_h, thumb in aged if age_h > 0]
        return Felt(poured, self._ages.strip_h, presses, self._freezes)

    def age_h(self, mould: str, poured: datetime, at: datetime) -> float:
        """Hours at 20 degC that blocks have at a moment in the mould they were poured into."""
        return self._age_h(self._plan.kind_of(mould), self._minute(poured), self._minute(at))

    def _age_h(self, kind: MouldKind, poured: int, at: int) -> float:
        if self._clocks is None:
            return round(self._air.age_h(poured, at), DECIMALS)
        from blockrun.cure.aged import warm_age_h

        return round(warm_age_h(self._site, self._clocks.casts(kind).values(), poured, at), DECIMALS)

    def _freezes(self, begin: int, end: int) -> bool:
        """Whether the air is under freezing at any minute between two."""
        return bool(self._frozen.hours(np.array([begin]), np.array([end]))[0] > 0)

    @cached_property
    def _frozen(self) -> FrozenHours:
        from blockrun.cure.frozen import FrozenHours

        return FrozenHours(self._site)

    @cached_property
    def _air(self) -> AgeClock:
        return AgeClock.of(self._site)

    def _clock(self, kind: MouldKind) -> Clock:
        return self._air if self._clocks is None else self._clocks.of(kind)

    @cached_property
    def _clocks(self) -> Clocks | None:
        """Clocks that know the heat of blocks; None where these are as warm as the air."""
        if self._site.curing.heat != "modelled":
            return None
        from blockrun.order import takeoff
        from blockrun.planner.clocks import Clocks

        return Clocks(self._site, self._order, takeoff(self._order, self._site.calendar, self._site.moulds))

    @cached_property
    def _ages(self) -> Ages:
        """What the rules come to; the order is read only where they ask for a strength."""
        curing = self._site.curing
        asked = [curing.strip_at_h, curing.move_at_h, curing.lay_at_min, *(k.sides_off_at_h for k in self._site.moulds)]
        if not any(isinstance(one, Strength) for one in asked):
            return Ages(self._site, {})
        from blockrun.planner.ages import ages_of

        return ages_of(self._site, self._order, self._plan.mixes)

    @cached_property
    def _order(self) -> Order:
        from blockrun.order import load_order

        return load_order(self._plan.order[""], files=self._plan.order)

    def _minute(self, moment: datetime) -> int:
        """Minutes since the clock begins; what was poured before the plan did is taken as poured then."""
        return max(0, (moment - self._midnight) // _MINUTE)

    def _moment(self, minute: int) -> datetime | None:
        return None if minute >= NEVER else self._midnight + timedelta(minutes=int(minute))


def _thumb(shows: str) -> Thumb:
    """What a thumb shows, as the rule knows it; the journal keeps no other word."""
    return "soft" if shows == "soft" else "dents" if shows == "dents" else "firm"
