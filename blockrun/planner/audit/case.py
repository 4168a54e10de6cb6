"""All that the rules look at: what was asked, what is written, and what the meanings make of it."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from functools import cached_property, partial
from typing import TYPE_CHECKING

from blockrun.cure import AgeClock, Reckoner
from blockrun.cure.pour_life import ever_poured_in_time
from blockrun.cure.warm import Contents, WarmClock, cast_in
from blockrun.mix import Proportions, proportions_of
from blockrun.order import OrderLine, spares
from blockrun.order.castable import castable
from blockrun.planner.audit.asked import lines_asked, spares_told, without_found
from blockrun.planner.audit.made import Made, make, quickest_min
from blockrun.planner.audit.past import Past
from blockrun.planner.audit.places import places_of
from blockrun.planner.audit.records import Cast, CubeSet, Records
from blockrun.planner.audit.thrown_out import ThrownOut, rows_without, thrown_out
from blockrun.planner.audit.turns import RowsOfPair, Turn, rebuild, rows_of_pairs
from blockrun.planner.audit.working import DAY, WorkingTime
from blockrun.site import Strength

if TYPE_CHECKING:
    from blockrun.order import MixSpec, Order
    from blockrun.planner.begun.facts import Begun
    from blockrun.planner.tables import Stage
    from blockrun.site import Mixer, MouldKind, Site


@dataclass(frozen=True)
class Case:
    """A plan before the audit.

    Attributes
    ----------
    site, order : what was asked.
    records : what is written.
    stages, totals : what is claimed of it; totals may be None.
    begun : what had happened, where the plan was made anew.
    """

    site: Site
    order: Order
    records: Records
    stages: Sequence[Stage]
    totals: Mapping[str, object] | None
    begun: Begun | None = None

    @cached_property
    def past(self) -> Past:
        """What had happened before the plan was made anew."""
        return Past(self.begun, self.site.calendar.start)

    @cached_property
    def working(self) -> WorkingTime:
        """Working days and minutes of the site."""
        return WorkingTime.of(self.site.calendar)

    @cached_property
    def age(self) -> AgeClock:
        """Hours at 20 degC in the site's weather."""
        return AgeClock.of(self.site)

    def clock(self, kind: MouldKind) -> AgeClock | WarmClock:
        """Ages of what stands in moulds of a kind: with its own heat where the site says so."""
        return self._warm[kind.kind] if self.site.curing.heat == "modelled" else self.age

    @cached_property
    def _warm(self) -> Mapping[str, WarmClock]:
        """Clocks of all kinds, for the mixes ordered and the shortest block of them that a kind casts."""
        made = [self.proportions(mix) for mix in sorted({line.mix for line in self.lines})]
        contents = [Contents(mix.cement_kg, mix.total_water_kg, mix.further_kg) for mix in made]
        clocks = {}
        for kind in self.site.moulds:
            of_blocks = [line.length_mm for line in self.lines if castable(kind, line)]
            length = kind.length_mm if kind.saw else min(of_blocks, default=kind.length_mm)
            clocks[kind.kind] = WarmClock(self.site, [cast_in(kind, length, mix, self.site) for mix in contents])
        return clocks

    @cached_property
    def cubes(self) -> Reckoner:
        """What the site's cubes tell."""
        return Reckoner(self.site.curing, self.site.units)

    def hours(self, asked: float | Strength) -> float:
        """Hours at 20 degC of an age as it is, of a strength as the weakest mix ordered has it."""
        if not isinstance(asked, Strength):
            return asked
        dry = {mix: self.proportions(mix).oven_dry_density_kg_m3 for mix in {line.mix for line in self.lines}}
        return max(self.cubes.hours_for(asked.mpa, density, mix).hours for mix, density in dry.items())

    def at(self, minute: int) -> str:
        """Say a minute."""
        return self.working.minute_text(minute)

    def moment(self, minute: int) -> datetime:
        """Local time of a minute."""
        return datetime.combine(self.working.start, time()) + timedelta(minutes=minute)

    def on(self, day: int) -> str:
        """Say a day."""
        return self.working.day_text(day)

    def day_of(self, minute: int) -> int:
        """Day a minute lies in."""
        return minute // DAY

    @cached_property
    def places(self) -> Mapping[str, str]:
        """Files and rows of what findings concern."""
        return places_of(self)

    @cached_property
    def lines(self) -> list[OrderLine]:
        """Blocks ordered, each with the date it is needed."""
        return without_found(self.ordered, self.begun) if self.begun else self.ordered

    @cached_property
    def ordered(self) -> list[OrderLine]:
        """The same with those that turned up at a count and need not be cast."""
        return lines_asked(self.order, self.working, self.site.moulds)

    @cached_property
    def spares(self) -> list[OrderLine]:
        """Spares asked for."""
        return spares_told(self.ordered, self.begun.spares) if self.begun else spares(self.order, self.lines)

    @cached_property
    def blocks(self) -> Mapping[str, OrderLine]:
        """A line of each mark: its size is that of the mark."""
        return {line.mark: line for line in self.ordered}

    @cached_property
    def mixes(self) -> Mapping[str, MixSpec]:
        """Mixes of the order by name."""
        return {mix.name: mix for mix in self.order.mixes}

    @cached_property
    def mixers(self) -> Mapping[str, Mixer]:
        """Mixers by name."""
        return {mixer.name: mixer for mixer in self.site.mixers}

    @cached_property
    def moulds(self) -> Mapping[str, MouldKind]:
        """Kind of each mould, such as ``gang-4/03``."""
        return {f"{kind.kind}/{n:02d}": kind for kind in self.site.moulds for n in range(1, kind.count + 1)}

    @cached_property
    def bases(self) -> Mapping[str, MouldKind]:
        """Kind of each base, such as ``gang-4/b07``."""
        return {f"{kind.kind}/b{n:02d}": kind for kind in self.site.moulds for n in range(1, (kind.bases or 0) + 1)}

    def proportions(self, mix: str) -> Proportions:
        """Cubic metre of a mix; raises OutOfRange where it cannot be made."""
        density_for = partial(self.cubes.density_for, mix=mix) if self.site.curing.cubes else None
        foam = self.site.foam_generator.density_kg_m3
        return proportions_of(self.mixes[mix], foam, density_for, units=self.site.units)

    @cached_property
    def batches(self) -> Mapping[int, Made]:
        """Batches worked out again, by number, in order of their start."""
        poured: defaultdict[int, list[Cast]] = defaultdict(list)
        for cast in self.records.casts:
            poured[cast.batch].append(cast)
        n_sets = Counter(of_set[0].batch for of_set in self.cube_sets)
        mixes = {name: self.proportions(name) for name in {row.mix for row in self.records.batches}}
        return {
            row.batch: make(
                row,
                self.site,
                self.mixers[row.mixer],
                mixes[row.mix],
                poured[row.batch],
                self._filled_l(poured[row.batch])
                + self.cubes_l * n_sets[row.batch]
                + self.past.lost_l.get(row.batch, 0.0),
            )
            for row in sorted(self.records.batches, key=lambda row: (row.start, row.batch))
        }

    @cached_property
    def planned_batches(self) -> list[Made]:
        """Batches that were not poured before the plan was made anew."""
        return [batch for number, batch in self.batches.items() if number not in self.past.poured]

    @cached_property
    def poured_in_time(self) -> frozenset[str]:
        """Mixes of which some batch, at some working minute of a year, is poured before heat sets it."""
        found = {
            mix
            for mix in {batch.row.mix for batch in self.batches.values()}
            for mixer in self.site.mixers
            if (quickest := quickest_min(self.site, mixer, self.proportions(mix))) is not None
            and ever_poured_in_time(self.site, mixer.slurry_time_min, quickest, mixer.wash_time_min)
        }
        return frozenset(found)

    @cached_property
    def cube_sets(self) -> list[list[CubeSet]]:
        """Rows of each set of test cubes, in the order of the batches."""
        found: defaultdict[tuple[int, int], list[CubeSet]] = defaultdict(list)
        for row in self.records.cubes:
            found[row.batch, row.set].append(row)
        start = {row.batch: row.start for row in self.records.batches}
        return sorted(found.values(), key=lambda rows: (start.get(rows[0].batch, -1), rows[0].batch, rows[0].set))

    @property
    def cubes_l(self) -> float:
        """Litres that fill the moulds of a set of test cubes; nothing where none are asked for."""
        sets = self.site.test_cubes
        return sets.count * sets.size_mm**3 / 1e6 if sets else 0.0

    def _filled_l(self, casts: Sequence[Cast]) -> float:
        """Litres that fill the cavities of some blocks: those of a slab share its one."""
        slabs = {(cast.mould, cast.turn) for cast in casts if self.moulds[cast.mould].saw}
        single = (self.blocks[cast.mark].volume_l for cast in casts if not self.moulds[cast.mould].saw)
        return sum(single) + sum(math.prod(self.moulds[mould].cavity) / 1e6 for mould, _ in slabs)

    @cached_property
    def job_rows(self) -> RowsOfPair:
        """Rows of sides, strip, move and clean by mould and base."""
        return rows_of_pairs(self.records.tasks)

    @cached_property
    def turns(self) -> tuple[Turn, ...]:
        """Turns worked out again, by mould, then in order of their start."""
        rows = rows_without(self.job_rows, self.thrown_out)
        return rebuild(self.records.casts, self.batches, self.moulds, rows, self.site.move_time_min)

    @cached_property
    def thrown_out(self) -> tuple[ThrownOut, ...]:
        """Turns out of which all was thrown before the plan was made anew."""
        return tuple(thrown_out(self.past, self.job_rows, self.moulds))

    @cached_property
    def rack_to(self) -> Mapping[int, int]:
        """First working minute at or after a strip and ``rack_for``, by strip."""
        rack_for = self.site.curing.rack_for_min
        return {strip: self.working.first_minute(strip + rack_for) for strip in {turn.strip for turn in self.turns}}

    @cached_property
    def ready(self) -> Mapping[tuple[int, int], int]:
        """Minute from which a block can be laid, by its strip and the end of its pour."""
        return {
            (turn.strip, batch.pour_to): max(self.rack_to[turn.strip], self._old_enough(batch.pour_to))
            for turn in self.turns
            for batch in turn.batches
        }

    def ready_of(self, cast: Cast, turn: Turn) -> int:
        """The same of one block: one that was laid too young counts as ready then, if it was off its rack."""
        ready = self.ready[turn.strip, self.batches[cast.batch].pour_to]
        laid = self.past.laid_at(cast.mould, cast.turn, cast.cavity)
        return ready if laid is None else min(ready, max(laid, self.rack_to[turn.strip]))

    def _old_enough(self, poured: int) -> int:
        """Minute from which a block poured then is old enough to lay."""
        lay_at = self.site.curing.lay_at_min
        if isinstance(lay_at, Strength):
            return self.age.when(poured, self.lay_h)
        return poured + lay_at

    @cached_property
    def lay_h(self) -> float:
        """Hours at 20 degC at which blocks have the strength to be laid."""
        return self.hours(self.site.curing.lay_at_min)

    @cached_property
    def casts_of(self) -> Mapping[tuple[str, int], list[Cast]]:
        """Blocks by mould and turn."""
        found: defaultdict[tuple[str, int], list[Cast]] = defaultdict(list)
        for cast in self.records.casts:
            found[cast.mould, cast.turn].append(cast)
        return found

    @property
    def pouring_days(self) -> range:
        """Days from the first batch to the last, both included; empty without a batch."""
        days = [self.day_of(batch.start) for batch in self.batches.values()]
        return range(min(days), max(days) + 1) if days else range(0)
