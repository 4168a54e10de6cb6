"""From each hour of pouring to sides, strip, rack and laying: what a yard can count on, without a plan."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.cure import AgeClock
from blockrun.cure.age import NEVER, Ints
from blockrun.cure.frozen import FrozenHours
from blockrun.cure.pour_life import TOO_HOT, ever_poured_in_time, hot_stretches, quickest_min
from blockrun.errors import BadInput
from blockrun.planner.ages import Ages, ages_of, check_ages
from blockrun.planner.frozen import LEAST_H, before_laying, before_strip
from blockrun.planner.hasty import hasty
from blockrun.planner.placed import aged_in, at
from blockrun.planner.stopped import frost_before_strip, frost_said, why_stopped
from blockrun.site import Strength
from blockrun.site.calendar import moment_at
from blockrun.units import MINUTES_A_DAY

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.clocks import Clock, Clocks
    from blockrun.site import MouldKind, Site

_WEEK: Final = 7
_LONGEST: Final = 62
"""Days told at once (our choice)."""

_FARTHEST: Final = 3650
"""Days after the start of the calendar up to which any are told (our choice)."""


@dataclass(frozen=True)
class Times:
    """What becomes of a mould whose last pour ends at a moment.

    Attributes
    ----------
    ripe : when it is old enough to be stripped.
    sides, strip, move : the first working moments from which its sides come off (None without bases), it is stripped,
        and its blocks are moved.
    lay : the day from which its blocks may be laid.
    thawed : the strip by hours that do not freeze, where others count in its age; None where none does, where heat is
        modelled, and where the weather never brings it.
    icy : whether hours under freezing count in the age at which it is stripped.
    """

    poured: datetime
    ripe: datetime
    sides: datetime | None
    strip: datetime
    move: datetime
    lay: date
    icy: bool = False
    thawed: datetime | None = None


@dataclass(frozen=True)
class DayTimes:
    """Times of one working day.

    Attributes
    ----------
    stopped : why nothing may be poured; then there are no times.
    hours : times of each full hour at which a pour may end, those too hot for one left out; of the first and the last
        minute where no hour is full.
    last : of each day on which pours are stripped but the last of them, the last pour that still is.
    too_late : why pours after the last of the hours are not to be made; empty where they may be.
    frozen : sentences on hours under freezing that count in the age at which blocks are stripped or laid.
    """

    day: date
    stopped: str
    hours: tuple[Times, ...]
    last: tuple[Times, ...]
    too_late: str = ""
    frozen: tuple[str, ...] = ()


@dataclass(frozen=True)
class KindTimes:
    """Times of moulds that come to the same."""

    kinds: tuple[MouldKind, ...]
    days: tuple[DayTimes, ...]


@dataclass(frozen=True)
class YardTimes:
    """Times of all kinds of mould, and sentences on strengths turned into ages and on modelled heat."""

    kinds: tuple[KindTimes, ...]
    said: tuple[str, ...]


def times_of(site: Site, order: Order | None, first: date | None = None, last: date | None = None) -> YardTimes:
    """Times of every working day of a span, by kind of mould.

    Parameters
    ----------
    order : whose mixes strengths and warmth are reckoned for; not needed where the site asks for neither.
    first, last : days, both included; a week from the first day of the calendar unless told.

    Raises
    ------
    BadInput : there is no order, and a strength is asked for or heat is modelled; or the days are not ones to tell.
    """
    first = first or site.calendar.start
    last = last or first + min(timedelta(days=_WEEK - 1), date.max - first)
    _check_span(site, first, last)
    groups: dict[tuple[DayTimes, ...], list[MouldKind]] = {}
    yard = _Yard(site, order)
    with aged_in(site):
        for kind in site.moulds:
            groups.setdefault(tuple(yard.days(kind, first, last)), []).append(kind)
    return YardTimes(
        tuple(KindTimes(tuple(kinds), days) for days, kinds in groups.items()), tuple(yard.said(first, last))
    )


def _check_span(site: Site, first: date, last: date) -> None:
    start = site.calendar.start
    if first < start:
        raise BadInput(f"{first} is before the first day of the calendar, {start}", "Ask for later days.", value=first)
    if (last - start).days > _FARTHEST:
        what = f"{last} is more than ten years after the first day of the calendar, {start}"
        raise BadInput(what, "Ask for earlier days.", value=last)
    if not 0 <= (last - first).days < _LONGEST:
        what = f"from {first} to {last} are not 1 to {_LONGEST} days"
        raise BadInput(what, "Ask for fewer days, the first of them first.", value=last)


class _Yard:
    """A site, and what tells the age of its blocks."""

    def __init__(self, site: Site, order: Order | None) -> None:
        self.site = site
        self._ice = FrozenHours(site)
        if order is None:
            _refuse_without_order(site)
            self._ages = Ages(site, {})
            self._clocks: Clocks | None = None
            self._air = AgeClock.of(site)
        else:
            # rooms that walls and domes are laid out in are opened only for an order
            from blockrun.order import takeoff
            from blockrun.planner.clocks import Clocks

            lines = takeoff(order, moulds=site.moulds)
            self._ages = ages_of(site, order, {line.mix for line in lines})
            check_ages(self._ages)
            self._clocks = Clocks(site, order, lines)
            self._air = self._clocks.air

    def said(self, first: date, last: date) -> Iterator[str]:
        """Sentences on strengths turned into ages, and on the warmth of what is poured from one day to another."""
        yield from hasty(self.site)
        yield from self._ages.said()
        if self._clocks and self._clocks.modelled:
            from blockrun.planner.heat import warmth_said

            since, until = self._pours()
            days = range((first - self.site.calendar.start).days, (last - self.site.calendar.start).days + 1)
            pours = np.array([day * MINUTES_A_DAY + minute for day in days for minute in range(since, until + 1, 60)])
            yield from warmth_said(
                self.site, self._clocks, {kind.kind: pours for kind in self.site.moulds}, self._ages.strip_h
            )

    def _clock(self, kind: MouldKind) -> Clock:
        return self._clocks.of(kind) if self._clocks else self._air

    def _moved(self, kind: MouldKind) -> int:
        """Minutes to move what is stripped; of a slab one block at the least."""
        return math.ceil((1 if kind.saw else kind.cavities) * self.site.move_time_min)

    def days(self, kind: MouldKind, first: date, last: date) -> Iterator[DayTimes]:
        for day in (first + timedelta(days=n) for n in range((last - first).days + 1)):
            if self.site.calendar.is_working(day):
                yield self._day(kind, day)

    def _day(self, kind: MouldKind, day: date) -> DayTimes:
        if stopped := why_stopped(self.site, day):
            return DayTimes(day, stopped, (), ())
        every = [self._times(kind, moment_at(day, n)) for n in self._cool(day)]
        if not every:
            return DayTimes(day, TOO_HOT, (), ())
        frost = frost_before_strip(self.site, day, every[-1].strip.date())
        clear = [one for one in every if frost is None or one.strip.date() < frost]
        said = "" if frost is None else frost_said(self.site, frost)
        if not clear:
            return DayTimes(day, said, (), ())
        last = (one for one, after in itertools.pairwise(clear) if after.strip.date() > one.strip.date())
        hours, lasts = (tuple(self._iced(kind, some)) for some in (_full_hours(clear), tuple(last)))
        return DayTimes(day, "", hours, lasts, said, tuple(self._frozen(clear)))

    def _iced(self, kind: MouldKind, pours: Sequence[Times]) -> Iterator[Times]:
        """Mark those before whose strip it freezes."""
        frozen_h = self._ice.hours(
            self._minutes(one.poured for one in pours), self._minutes(one.strip for one in pours)
        )
        for one, hours in zip(pours, frozen_h, strict=True):
            icy = bool(hours >= LEAST_H)
            yield replace(one, icy=icy, thawed=self._thawed(kind, one)) if icy else one

    def _thawed(self, kind: MouldKind, one: Times) -> datetime | None:
        if self.site.curing.heat == "modelled":
            return None
        minute = self._ice.thawed(self.site.calendar.minute_of(one.poured), self._ages.strip_h)
        takes_min = kind.strip_and_saw_min + self._moved(kind)
        if minute is None:
            return None
        return max(one.strip, self.site.calendar.next_stretch(self.site.calendar.moment_of(minute), takes_min))

    def _frozen(self, pours: Sequence[Times]) -> Iterator[str]:
        poured = self._minutes(one.poured for one in pours)
        yield from before_strip(self.site, self._ice.most(poured, self._minutes(one.strip for one in pours)))
        if self._ages.lay_h is not None:
            yield from before_laying(self.site, self._ice.most(poured, self._air.when(poured, self._ages.lay_h)))

    def _minutes(self, moments: Iterable[datetime]) -> Ints:
        return np.array([self.site.calendar.minute_of(moment) for moment in moments], dtype=np.int64)

    def _pours(self) -> tuple[int, int]:
        """First and last minute of a day at which a pour can end."""
        calendar, mixers = self.site.calendar, self.site.mixers
        soonest = min(mixer.slurry_time_min + mixer.foam_time_min + mixer.pour_time_min for mixer in mixers)
        after_foam = max(mixer.foam_time_min + mixer.pour_time_min for mixer in mixers)
        closes = calendar.ends_min - min(mixer.wash_time_min for mixer in mixers)
        return calendar.begins_min + soonest, min(calendar.last_foam_min + after_foam, closes)

    def _cool(self, day: date) -> Sequence[int]:
        """Minutes of a day at which a pour can end; where heat ever leaves any, those by which the mix has not set."""
        site, takes_min = self.site, quickest_min(self.site)
        since, until = self._pours()
        every = range(since, until + 1)
        hot = hot_stretches(site, site.weather.day(day), takes_min)
        if not hot or not self._ever_in_time:
            return every
        return [minute for minute in every if not any(first <= minute - takes_min < end for first, end in hot)]

    @cached_property
    def _ever_in_time(self) -> bool:
        """Whether any batch is in time at some hour of a year; where none is, plans pour all the same."""
        site = self.site
        return any(
            ever_poured_in_time(site, one.slurry_time_min, one.foam_time_min + one.pour_time_min, one.wash_time_min)
            for one in site.mixers
        )

    def _times(self, kind: MouldKind, poured: datetime) -> Times:
        calendar, minute = self.site.calendar, self.site.calendar.minute_of(poured)
        clock, sides_h = self._clock(kind), self._ages.sides_h(kind)
        ripe = self._old(kind, clock.when(minute, self._ages.strip_h))
        bared = None if sides_h is None else self._old(kind, clock.when(minute, sides_h))
        sides = None if bared is None else calendar.next_stretch(bared, kind.sides_time_min or 0)
        off = ripe if sides is None else max(ripe, sides + timedelta(minutes=kind.sides_time_min or 0))
        strip = calendar.next_stretch(off, kind.strip_and_saw_min + self._moved(kind))
        move = strip + timedelta(minutes=kind.strip_and_saw_min)
        return Times(poured, ripe, sides, strip, move, self._lay(minute, move))

    def _lay(self, poured_min: int, racked: datetime) -> date:
        lay_h = self._ages.lay_h
        old_min = poured_min + self._ages.lay_min if lay_h is None else self._air.when(poured_min, lay_h)
        old = self.site.calendar.moment_of(old_min)
        off = self.site.off_rack(racked)
        return max(off, old).date()

    def _old(self, kind: MouldKind, minute: int) -> datetime:
        """The moment at which blocks are of an age; raises where they never are."""
        if minute >= NEVER:
            what = f"blocks in {kind.kind} are never as old as that in this weather"
            todo = "Ask for a lower age, start later, cover the moulds, or look at the weather file."
            raise at(self.site, BadInput(what, todo), "curing", "strip_at")
        return self.site.calendar.moment_of(minute)


def _full_hours(every: Sequence[Times]) -> tuple[Times, ...]:
    """Those poured at full hours; first and last where there are none."""
    return tuple(one for one in every if not one.poured.minute) or tuple(dict.fromkeys((every[0], every[-1])))


def _refuse_without_order(site: Site) -> None:
    """Raise where only the mixes of an order tell what the site asks for."""
    asked: Sequence[tuple[tuple[str | tuple[str, str], ...], str, object]] = list(Ages(site, {}).asked())
    where = next((where for where, _, age in asked if isinstance(age, Strength)), None)
    if site.curing.heat == "modelled":
        where = ("curing", "heat")
    if where is not None:
        fault = BadInput("only the mixes of an order tell this", "Name the order too: --order ORDER.")
        raise at(site, fault, *where)
