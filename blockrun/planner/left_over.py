"""What is left of each batch once its moulds are full, and the filler moulds it goes into.

An extra beside the plan: nobody's time is set aside for it and no place on a rack is counted. A filler mould cures to
the same age as any other, by the clock of its own kind; it is stripped and cleaned as soon as working hours let it be,
and is then free again.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, Final

from blockrun.order.castable import TOLERANCE_DEG, TOLERANCE_MM
from blockrun.planner.ages import ages_of
from blockrun.planner.clocks import Clocks
from blockrun.planner.rows import rows_of
from blockrun.planner.stopped import frost_before_strip

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind, Site

_ROUNDING_L: Final = 1e-6


@dataclass(frozen=True)
class Fills:
    """Cavities of one filler mould that what is left of a batch fills.

    ``mark`` is of the ordered block that they equal, "" where there is none; ``poured_l`` what they take, overfill
    included.
    """

    mould: str
    kind: MouldKind
    cavities: int
    mark: str
    poured_l: float


@dataclass(frozen=True)
class Left:
    """What is left of a batch after its moulds are full and the drum has kept its share; the fillers it goes into."""

    left_l: float
    fills: tuple[Fills, ...]

    @property
    def thrown_l(self) -> float:
        """What no filler takes either."""
        return self.left_l - sum(fills.poured_l for fills in self.fills)


@dataclass(frozen=True)
class Ripe:
    """A filler mould that can be stripped, from a working minute on: its blocks are old enough."""

    mould: str
    at: datetime
    blocks: int


@dataclass(frozen=True)
class LeftOver:
    """What is left of each batch, by its number, and when filler moulds can be stripped, in the order of the clock."""

    batches: Mapping[int, Left]
    ripe: tuple[Ripe, ...]

    @property
    def blocks(self) -> int:
        """Blocks that the filler moulds give in all."""
        return sum(ripe.blocks for ripe in self.ripe)

    @property
    def poured_l(self) -> float:
        """Mix that goes into the filler moulds in all, overfill included."""
        return sum(fills.poured_l for left in self.batches.values() for fills in left.fills)

    @property
    def thrown_l(self) -> float:
        """Mix that nothing takes, what stays in the drum apart."""
        return sum(left.thrown_l for left in self.batches.values())


def left_over(plan: Plan) -> LeftOver:
    """What is left of the batches of a plan, and what it fills.

    Of the fillers that stand free when a batch begins to be poured, those with the largest cavities are filled first.
    One that is filled in part may be filled up from a later batch of the same day.
    """
    ages = ages_of(plan.site, plan.order, set(plan.tables.casts["mix"]))
    yard = _Yard(plan.site, ages.strip_h, Clocks(plan.site, plan.order, plan.ordered))
    named = _Names(plan.ordered)
    out = plan.begun.out_of_use if plan.begun else ()
    names = ((name, kind) for kind in _fillers(plan.site) for name in kind.mould_names if name not in out)
    fillers = [_Filler(name, kind, yard) for name, kind in names]
    kept = {mixer.name: mixer.left_behind_l for mixer in plan.site.mixers}
    batches: dict[int, Left] = {}
    for batch in rows_of(plan.tables.batches.sort_values(["pour_from", "batch"])):
        left_l = max(0.0, batch.yield_l - batch.poured_l - kept[batch.mixer])
        batches[batch.batch] = Left(left_l, tuple(_filled(fillers, batch, left_l, named)))
    ripe = sorted((one for filler in fillers for one in filler.ripe), key=lambda one: (one.at, one.mould))
    return LeftOver(batches, tuple(ripe))


def _fillers(site: Site) -> Sequence[MouldKind]:
    """Kinds of filler mould that can be stripped and cleaned in some part of a day, largest cavities first."""
    longest = max(end - start for start, end in site.calendar.windows)
    kinds = (kind for kind in site.moulds if kind.filler and max(kind.strip_time_min, kind.clean_time_min) <= longest)
    return sorted(kinds, key=lambda kind: -math.prod(kind.cavity))


def _filled(fillers: Sequence[_Filler], batch: Any, left_l: float, named: _Names) -> Iterator[Fills]:
    for filler in fillers:
        cavities = min(filler.room(batch.pour_from, batch.pour_to), int((left_l + _ROUNDING_L) / filler.each_l))
        if cavities:
            filler.fill(cavities, batch.pour_from, batch.pour_to)
            poured_l = cavities * filler.each_l
            left_l -= poured_l
            yield Fills(filler.name, filler.kind, cavities, named.mark(filler.kind, batch.mix), poured_l)


class _Names:
    """What blocks of an order are called by their mix and size."""

    def __init__(self, lines: Iterable[OrderLine]) -> None:
        self._lines = [line for line in lines if _upright(line)]

    def mark(self, kind: MouldKind, mix: str) -> str:
        """The first mark that is of a mix and as large as a cavity; "" where there is none."""
        return next((line.mark for line in self._lines if line.mix == mix and _as_large(line, kind)), "")


def _upright(line: OrderLine) -> bool:
    return max(abs(line.bevel_deg), abs(line.taper_deg), abs(line.bed_deg)) <= TOLERANCE_DEG


def _as_large(line: OrderLine, kind: MouldKind) -> bool:
    sides = (line.length_mm, line.height_mm, line.thickness_mm)
    return all(abs(have - want) <= TOLERANCE_MM for have, want in zip(kind.cavity, sides, strict=True))


@dataclass
class _Filler:
    """A filler mould, what is in it, and when that can be stripped."""

    name: str
    kind: MouldKind
    yard: _Yard
    taken: int = 0
    since: datetime | None = None
    free_at: datetime | None = None
    ripe: list[Ripe] = field(default_factory=list)

    @property
    def each_l(self) -> float:
        """What one cavity takes, overfill included, in litres."""
        return math.prod(self.kind.cavity) / 1e6 * (1 + self.yard.site.overfill)

    def room(self, pour_from: datetime, pour_to: datetime) -> int:
        """Cavities a batch may be poured into."""
        if not self.yard.frost_free(self.kind, pour_to):
            return 0
        if self._is_free(pour_from):
            return self.kind.cavities
        same_day = self.since is not None and self.since.date() == pour_to.date()
        return self.kind.cavities - self.taken if same_day and pour_from < self.ripe[-1].at else 0

    def _is_free(self, pour_from: datetime) -> bool:
        return self.free_at is None or self.free_at <= pour_from

    def fill(self, cavities: int, pour_from: datetime, pour_to: datetime) -> None:
        """Pour so many cavities more; the age of all that is in it starts at the last pour."""
        if self._is_free(pour_from):
            self.taken = 0
        else:
            self.ripe.pop()
        self.taken, self.since = self.taken + cavities, pour_to
        at = self.yard.strip_from(self.kind, pour_to)
        self.ripe.append(Ripe(self.name, at, self.taken))
        stripped = self.yard.done(at, self.kind.strip_time_min)
        self.free_at = self.yard.done(stripped, self.kind.clean_time_min)


class _Yard:
    """Working minutes, ages and frost of a site."""

    def __init__(self, site: Site, strip_h: float, clocks: Clocks) -> None:
        self.site = site
        self._strip_h = strip_h
        self._clocks = clocks

    def strip_from(self, kind: MouldKind, poured: datetime) -> datetime:
        """The first working minute at which blocks are old enough to strip."""
        calendar = self.site.calendar
        return calendar.next_working_minute(calendar.moment_of(self._clocks.ripe_min(kind, poured, self._strip_h)))

    def done(self, start: datetime, minutes: int) -> datetime:
        """The soonest end of a task that begins at or after a moment and lies in one part of a day."""
        return self.site.calendar.next_stretch(start, minutes) + timedelta(minutes=minutes)

    def frost_free(self, kind: MouldKind, poured: datetime) -> bool:
        """Whether no day from a pour to the strip is colder than ``least_air``."""
        return frost_before_strip(self.site, poured.date(), self.strip_from(kind, poured).date()) is None
