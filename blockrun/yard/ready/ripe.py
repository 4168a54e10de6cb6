"""Since when what stands in a mould may be stripped, and since when blocks leave a rack and may be laid."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.cure.age import NEVER
from blockrun.cure.felt import DECIMALS, Felt, Press
from blockrun.cure.thumb import Pressed, Thumb
from blockrun.errors import BadInput, OutOfRange
from blockrun.planner.ages import Ages
from blockrun.site import Strength
from blockrun.yard.aging import Aging
from blockrun.yard.ready.cubes import RecordedCubes
from blockrun.yard.ready.strong import Strong, Told

if TYPE_CHECKING:
    from blockrun.cure.frozen import FrozenHours
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.planner.clocks import Clock
    from blockrun.site import Calendar, MouldKind, Site
    from blockrun.yard.now import BatchNo, Lot, Standing


class Ripe:
    """When blocks are old enough.

    Parameters
    ----------
    plan : by which they were cast.
    site : of it, in the air as it went.
    cubes : that were crushed since, as recorded; none unless told.
    """

    def __init__(self, plan: AsPlanned, site: Site, cubes: RecordedCubes | None = None) -> None:
        self._plan, self._site = plan, site
        self._cubes = cubes or RecordedCubes(site, ())
        self._aging = Aging(plan, site)

    @property
    def site(self) -> Site:
        """Of the plan, in the air as it went."""
        return self._site

    @property
    def calendar(self) -> Calendar:
        """When the yard works, lost days left out."""
        return self._site.calendar

    def strip(self, here: Standing) -> datetime | None:
        """Since when a mould, or a base, may be stripped; None where it never may."""
        told = [self.cubes_on_strip(batch) for batch in here.batches]
        if any(one is not None and one.holds for one in told):
            return None
        return self._reached(lambda: self._strip(here, told))

    def _strip(self, here: Standing, told: Sequence[Told | None]) -> int:
        clock, felt = self._aging.clock(self._plan.kind_of(here.mould)), self.felt(here)
        strip = felt.strip(clock, held=self.strip_mpa is not None)
        sooner = [self._sooner(clock, felt.poured, one) for one in told]
        if felt.told.factor < 1 or felt.iced:  # what a thumb is in doubt of no cube hurries
            return strip
        return min(strip, max([*sooner, *(press.at for press in felt.presses)], default=strip))

    def _sooner(self, clock: Clock, poured: int, told: Told | None) -> int:
        """From which minute cubes let blocks come; after frost since the pour they bring nothing forward."""
        if told is None or told.age_h is None:
            return NEVER
        crushed = self.calendar.minute_of(told.cubes.crushed)
        return NEVER if self._freezes(poured, crushed + 1) else max(crushed, int(clock.when(poured, told.age_h)))

    @property
    def strip_mpa(self) -> float | None:
        """The strength that a strip waits for; None where it waits for an age."""
        asked = (self._site.curing.strip_at_h, self._site.curing.move_at_h)
        return max((one.mpa for one in asked if isinstance(one, Strength)), default=None)

    @property
    def lay_mpa(self) -> float | None:
        """The strength that laying waits for; None where it waits for an age."""
        asked = self._site.curing.lay_at_min
        return asked.mpa if isinstance(asked, Strength) else None

    def cubes_on_strip(self, batch: BatchNo) -> Told | None:
        """What the cubes of a batch say of its strip; None where there are none, or an age is asked for."""
        return self._told(batch, self.strip_mpa, lambda: self._ages.strip_h)

    def cubes_on_laying(self, batch: BatchNo) -> Told | None:
        """What they say of laying its blocks."""
        return self._told(batch, self.lay_mpa, lambda: self._ages.lay_h or 0.0)

    def asked_mpa(self, mix: str) -> float | None:
        """The strength that laying and a mix ask for; None where neither does, and no cube can tell."""
        asked = [mpa for mpa in (self.lay_mpa, self._plan.strengths_mpa.get(mix)) if mpa is not None]
        return max(asked, default=None)

    def cubes_say(self, batch: BatchNo, mix: str, since: datetime) -> bool | None:
        """Whether cubes of a batch, the last that were crushed, have what is asked; None where none were since then."""
        cubes, asked = self._cubes.last_of(batch), self.asked_mpa(mix)
        if cubes is None or asked is None or cubes.crushed <= since:
            return None
        return cubes.weakest_mpa >= asked

    def _told(self, batch: BatchNo, asked_mpa: float | None, due_h: Callable[[], float]) -> Told | None:
        if asked_mpa is None or self._cubes.last_of(batch) is None:
            return None
        try:
            return self._strong.told(batch, asked_mpa, due_h())
        except OutOfRange:
            return None

    @cached_property
    def _strong(self) -> Strong:
        return Strong(self._ages, self._cubes)

    @property
    def cubes_doubted(self) -> str:
        """Why cubes that were recorded count for no curve, or that by them a strength is never reached; else empty."""
        return self._with_cubes[1] if self._asks_for_strength else ""

    def sides(self, here: Standing) -> datetime | None:
        """Since when its sides may come off; None where there are none, they are off, or never may."""
        kind = self._plan.kind_of(here.mould)
        if not here.sides_on or kind.sides_off_at_h is None:
            return None
        return self._reached(lambda: self._sides(here, kind))

    def _sides(self, here: Standing, kind: MouldKind) -> int:
        sides_h, felt = self._ages.sides_h(kind), self.felt(here)
        assert sides_h is not None
        held = isinstance(kind.sides_off_at_h, Strength)
        return felt.sides(self._aging.clock(kind), sides_h, felt.counted, held=held)

    def off_rack(self, since: datetime) -> datetime:
        """When blocks leave a rack to which they came at a moment."""
        return self._site.off_rack(since)

    def lay(self, lot: Lot) -> datetime | None:
        """Since when blocks are old enough to be laid; None where they never are."""
        if self.lay_mpa is None:
            return lot.poured + timedelta(minutes=self._ages.lay_min)
        told = self.cubes_on_laying(lot.batch)
        if told is not None and told.holds:
            return None
        return self._reached(lambda: self._lay(self.calendar.minute_of(lot.poured), told))

    def _lay(self, poured: int, told: Told | None) -> int:
        return min(self._aging.air.when(poured, self._ages.lay_h or 0.0), self._sooner(self._aging.air, poured, told))

    def felt(self, here: Standing) -> Felt:
        """What the thumbs pressed into it tell."""
        kind, minute_of = self._plan.kind_of(here.mould), self.calendar.minute_of
        aged = [(at, self._age_h(kind, here.poured, at), shows) for at, shows in here.thumbs if at > here.poured]
        presses = [Press(minute_of(at), Pressed(age_h, _thumb(shows))) for at, age_h, shows in aged if age_h > 0]
        return Felt(minute_of(here.poured), self._ages.strip_h, presses, self._freezes)

    def age_h(self, mould: str, poured: datetime, at: datetime) -> float:
        """Hours at 20 degC that blocks have at a moment in the mould they were poured into."""
        return self._age_h(self._plan.kind_of(mould), poured, at)

    def _age_h(self, kind: MouldKind, poured: datetime, at: datetime) -> float:
        return round(self._aging.age_h(kind, poured, at), DECIMALS)

    def _freezes(self, begin: int, end: int) -> bool:
        return self._frozen.any(begin, end)

    @cached_property
    def _frozen(self) -> FrozenHours:
        from blockrun.cure.frozen import FrozenHours

        return FrozenHours(self._site)

    @cached_property
    def _ages(self) -> Ages:
        """What the rules come to; the order is read only where they ask for a strength."""
        return self._with_cubes[0] if self._asks_for_strength else Ages(self._site, {})

    @property
    def _asks_for_strength(self) -> bool:
        return any(isinstance(asked, Strength) for _, _, asked in Ages(self._site, {}).asked())

    @cached_property
    def _with_cubes(self) -> tuple[Ages, str]:
        """Ages by the site's cubes and those recorded since; and what is odd about these."""
        from blockrun.planner.ages import ages_of

        as_planned = ages_of(self._site, self._aging.order, self._plan.mixes)
        ages = replace(as_planned, site=self._cubes.joined())
        try:
            for _, _, asked in ages.asked():
                ages.hours(asked)
        except BadInput as fault:
            return as_planned, f"those recorded are left out of the curve: {fault.what}"
        except OutOfRange as fault:
            return ages, f"with those recorded, {fault.what}"
        return ages, ""

    def _reached(self, work: Callable[[], int]) -> datetime | None:
        """The moment of a minute; None for one that never comes."""
        try:
            return self._moment(work())
        except OutOfRange:
            return None

    def _moment(self, minute: int) -> datetime | None:
        return None if minute >= NEVER else self.calendar.moment_of(minute)


def _thumb(shows: str) -> Thumb:
    """What a thumb shows, as the rule knows it; the journal keeps no other word."""
    return "soft" if shows == "soft" else "dents" if shows == "dents" else "firm"
