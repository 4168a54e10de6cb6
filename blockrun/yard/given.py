"""From a saved plan to what a run has to know of it."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np
import pandas as pd

from blockrun.errors import BadPlan
from blockrun.mix import batch_sizes
from blockrun.order.castable import castable
from blockrun.planner.ages import Ages, ages_of
from blockrun.planner.clocks import Clocks
from blockrun.planner.in_moulds import Row, Turn, turns_of
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.saved import AS_IT_WAS
from blockrun.planner.stopped import why_stopped
from blockrun.planner.wanted import wanted
from blockrun.yard.ripening import Minutes, Ripening, ages_within, colder_site, warm_minutes
from blockrun.yard.setting import (
    MINUTES_A_DAY,
    NEVER,
    Course,
    Day,
    Fill,
    Kind,
    Load,
    PlannedBatch,
    PlannedTurn,
    Setting,
)

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.planner.plan import Plan
    from blockrun.planner.risk.rates import Rates
    from blockrun.site import DayWeather, Delivery, MouldKind, Site

CARRIED_ON_DAYS: Final = 120
"""Days after the last one planned on which a run may still pour, our choice: what is not laid then counts as late."""

_CURED_DAYS: Final = 60
_ENDLESS: Final = 1_000_000
_ROUNDING: Final = 1e-6

Mark = tuple[str, str]
"""A mark and its mix."""


def setting_of(plan: Plan, rates: Rates) -> Setting:
    """What runs of a plan have to know of it.

    Parameters
    ----------
    plan : as saved; its audit should find nothing.
    rates : how much colder a snap is, and how long more stock takes to come.

    Raises
    ------
    BadPlan : its tables do not fit its site and order.
    """
    try:
        return _Given(plan, rates).setting()
    except (KeyError, IndexError, StopIteration) as error:
        todo = "Run blockrun audit on it, and make it again."
        raise BadPlan(f"the tables of the plan do not fit its yard: {error}", f"{todo} {AS_IT_WAS}") from error


@dataclass(frozen=True)
class _Given:
    plan: Plan
    rates: Rates

    def setting(self) -> Setting:
        site = self.plan.site
        days = tuple(self._days())
        stock, more = site.stock, self.rates.more_after_min
        lead_times = [kept.lead_time_min for kept in (stock.cement, stock.foaming_agent) if kept.lead_time_min]
        return Setting(
            mixes=self.mixes,
            marks=tuple(mark for mark, _ in self.marks),
            kinds=tuple(self._kind(kind) for kind in site.moulds),
            batches=tuple(self._batches()),
            turns=tuple(self._turn(turn) for turn in self.turns),
            loads=self.loads,
            casts=tuple(tuple(self._casts_of(mark)) for mark in self.marks),
            days=days,
            windows=site.calendar.windows,
            wanted=tuple(self._wanted[mark] for mark in self.marks),
            courses=tuple(self._courses),
            needs=self._needs(),
            lead=self._lead,
            n_blocks=len(self.rows),
            spares={nth: self._day(row.poured) for nth, row in enumerate(self.rows) if row.spare},
            places=sum(rack.places for rack in site.racks) if site.curing.rack_for_min else _ENDLESS,
            rack_for=site.curing.rack_for_min,
            ripening=self._ripening(),
            people=site.crew.people,
            least_c=site.curing.least_air_c,
            colder_c=self.rates.cold_snaps.colder_c,
            lowest_c=tuple(self._air(number).min_c for number in range(self.n_days)),
            cement=self._supply(stock.cement.on_hand_bags, stock.cement.deliveries),
            agent=self._supply(stock.foaming_agent.on_hand_l, stock.foaming_agent.deliveries),
            more_after=-(-max(lead_times, default=more) // MINUTES_A_DAY),
        )

    @cached_property
    def rows(self) -> list[Row]:
        """Blocks of the plan; their place here is their number."""
        return list(self.plan.tables.casts.itertuples(index=False))

    @cached_property
    def turns(self) -> list[Turn]:
        return turns_of(self.plan)

    @cached_property
    def lines(self) -> tuple[OrderLine, ...]:
        return wanted(self.plan.site, self.plan.order)

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        return tuple(sorted({(line.mark, line.mix) for line in self.lines}))

    @cached_property
    def mixes(self) -> tuple[str, ...]:
        return tuple(sorted({mix for _, mix in self.marks}))

    @cached_property
    def n_days(self) -> int:
        last = max(turn.cleaned for turn in self.turns)
        return (last.date() - self.start).days + 1 + CARRIED_ON_DAYS + _CURED_DAYS

    @property
    def start(self) -> date:
        return self.plan.site.calendar.start

    def _air(self, number: int) -> DayWeather:
        return self.plan.site.weather.day(self.start + timedelta(days=number))

    def minute(self, moment: datetime) -> int:
        return int((moment - datetime.combine(self.start, time())).total_seconds()) // 60

    def _mark(self, row: Row) -> int:
        return self.marks.index((row.mark, row.mix))

    @cached_property
    def _wanted(self) -> Counter[Mark]:
        counts: Counter[Mark] = Counter()
        for line in self.lines:
            if line.part:
                counts[line.mark, line.mix] += line.count
        return counts

    def _days(self) -> Iterator[Day]:
        site = self.plan.site
        first = min(self.minute(turn.filled) for turn in self.turns) // MINUTES_A_DAY
        chores = tuple((at, chore.time_min, chore.people) for chore in site.chores for at in chore.at)
        for number in range(self.n_days - _CURED_DAYS):
            on = self.start + timedelta(days=number)
            if site.calendar.is_working(on):
                last_foam = -1 if why_stopped(site, on) else site.calendar.last_foam_min
                yield Day(number, site.crew.on(on), last_foam, chores if number >= first else ())

    # moulds and mixers

    def _kind(self, kind: MouldKind) -> Kind:
        most = max([kind.cavities, *(len(turn.casts) for turn in self.turns if turn.kind == kind)])
        move = self.plan.site.move_time_min
        return Kind(
            name=kind.kind,
            count=kind.count,
            cavities=kind.cavities,
            strip=kind.strip_and_saw_min,
            clean=kind.clean_time_min,
            bases=kind.bases or 0,
            sides=kind.sides_time_min or 0,
            sides_h=self._ages.sides_h(kind) or 0.0,
            moves=tuple(math.ceil(n * move - _ROUNDING) for n in range(most + 1)),
        )

    @cached_property
    def loads(self) -> tuple[tuple[tuple[Load, ...], ...], ...]:
        site = self.plan.site
        made = mix_proportions(site, self.plan.order)
        return tuple(
            tuple(
                tuple(
                    Load(
                        nth,
                        float(size.bags),
                        size.agent_l,
                        size.room_l,
                        mixer.slurry_time_min,
                        size.foam_min,
                        mixer.pour_time_min,
                        mixer.wash_time_min,
                        mixer.crew,
                    )
                    for size in batch_sizes(site, mixer, made[mix])
                )
                for nth, mixer in enumerate(site.mixers)
            )
            for mix in self.mixes
        )

    # ages

    @cached_property
    def _ages(self) -> Ages:
        return ages_of(self.plan.site, self.plan.order, self.mixes)

    def _ripening(self) -> Ripening:
        site, ages, n_days = self.plan.site, self._ages, self.n_days
        colder = colder_site(site, self.rates.cold_snaps.colder_c)
        both = [ages_within(each, n_days) for each in (site, colder)]
        return Ripening(
            within=np.stack([within for within, _ in both]),
            whole=np.stack([whole for _, whole in both]),
            warm=self._warm(colder) if site.curing.heat == "modelled" else {},
            strip_h=ages.strip_h,
            lay_h=ages.lay_h,
            lay_min=ages.lay_min,
        )

    def _warm(self, colder: Site) -> Mapping[tuple[int, float], Minutes]:
        order, days = self.plan.order, self.n_days - _CURED_DAYS
        clocks = [Clocks(site, order, self.lines) for site in (self.plan.site, colder)]
        found = {}
        for nth, kind in enumerate(self.plan.site.moulds):
            if clocks[0].casts(kind):
                for hours in {self._ages.strip_h, self._ages.sides_h(kind) or self._ages.strip_h}:
                    found[nth, hours] = warm_minutes(clocks[0], clocks[1], kind, hours, days)
        return found

    # turns, batches, fills

    @cached_property
    def _fills(self) -> Mapping[tuple[int, int], list[Fill]]:
        """Fills by turn and batch."""
        found: defaultdict[tuple[int, int], list[Fill]] = defaultdict(list)
        numbers = {row.cast: nth for nth, row in enumerate(self.rows)}
        for nth, turn in enumerate(self.turns):
            cavities: defaultdict[int, list[Row]] = defaultdict(list)
            for row in turn.casts:
                # blocks of a slab have a number each, and share its one cavity
                cavities[1 if turn.kind.saw else row.cavity].append(row)
            for rows in cavities.values():
                blocks = tuple(numbers[row.cast] for row in rows)
                found[nth, rows[0].batch].append(self._fill(turn.kind, rows, blocks))
        return found

    def _fill(self, kind: MouldKind, rows: Sequence[Row], blocks: tuple[int, ...]) -> Fill:
        needs = [self._day(row.needed) for row in rows if pd.notna(row.needed)]
        return Fill(
            mix=self.mixes.index(rows[0].mix),
            marks=tuple(self._mark(row) for row in rows),
            volume_l=self._poured_l(kind, self._line[rows[0].mark, rows[0].mix]),
            blocks=blocks,
            due=min(needs) - self._lead if needs else NEVER,
        )

    @cached_property
    def _line(self) -> Mapping[Mark, OrderLine]:
        return {(line.mark, line.mix): line for line in self.lines}

    def _poured_l(self, kind: MouldKind, line: OrderLine) -> float:
        volume = math.prod(kind.cavity) / 1e6 if kind.saw else line.volume_l
        return volume * (1 + self.plan.site.overfill)

    def _turn(self, turn: Turn) -> PlannedTurn:
        kind, names = turn.kind, [kind.kind for kind in self.plan.site.moulds]
        stripped = self.minute(turn.stripped)
        return PlannedTurn(
            kind=names.index(kind.kind),
            unit=int(turn.mould.rsplit("/", 1)[1]),
            base=int(turn.base.rsplit("/b", 1)[1]) if turn.base else 0,
            n_fills=1 if kind.saw else len(turn.casts),
            sides=0 if turn.sides is None else self.minute(turn.sides),
            strip=stripped - kind.strip_and_saw_min,
            clean=self.minute(turn.cleaned) - kind.clean_time_min,
        )

    def _batches(self) -> Iterator[PlannedBatch]:
        mixers = [mixer.name for mixer in self.plan.site.mixers]
        cubes_l = self.plan.tables.cubes.groupby("batch")["volume_l"].sum().to_dict()
        rows: list[Row] = sorted(self.plan.tables.batches.itertuples(index=False), key=lambda row: row.start)
        for nth, row in enumerate(rows):
            mix, start = self.mixes.index(row.mix), self.minute(row.start)
            sizes = self.loads[mix][mixers.index(row.mixer)]
            load = next(size for size in sizes if abs(size.bags - row.bags) < _ROUNDING)
            parts = tuple((turn, tuple(self._fills[turn, batch])) for turn, batch in self._fills if batch == row.batch)
            in_cubes = float(cubes_l.get(row.batch, 0.0))
            yield PlannedBatch(nth, start // MINUTES_A_DAY, start, mix, load, in_cubes, parts)

    def _casts_of(self, mark: Mark) -> Iterator[tuple[int, Fill]]:
        """What a new fill of a mark may be: alone in a mould that casts it, or as a slab like one of the plan."""
        line, number = self._line[mark], self.marks.index(mark)
        for nth, kind in enumerate(self.plan.site.moulds):
            if not kind.saw and castable(kind, line):
                yield nth, Fill(self.mixes.index(mark[1]), (number,), self._poured_l(kind, line))
        names = [kind.kind for kind in self.plan.site.moulds]
        slabs = {
            (names.index(self.turns[turn].kind.kind), fill.mix, fill.marks, fill.volume_l)
            for (turn, _), fills in self._fills.items()
            for fill in fills
            if self.turns[turn].kind.saw and number in fill.marks
        }
        for kind_number, mix, marks, volume_l in sorted(slabs):
            yield kind_number, Fill(mix, marks, volume_l)

    # needs

    def _day(self, moment: datetime) -> int:
        return (moment.date() - self.start).days

    @cached_property
    def _lead(self) -> int:
        """Days from a pour until its blocks are laid, at the quickest of the plan, and one more for good measure."""
        return 1 + min(self._day(row.ready) - self._day(row.poured) for row in self.rows)

    @cached_property
    def _of_courses(self) -> Mapping[tuple[str, int | None, int], list[tuple[int, int]]]:
        """Marks and counts of each course with a date."""
        found: defaultdict[tuple[str, int | None, int], list[tuple[int, int]]] = defaultdict(list)
        for line in self.lines:
            if line.needed is not None:
                day = (line.needed - self.start).days
                found[line.part, line.course, day].append((self.marks.index((line.mark, line.mix)), line.count))
        return found

    @cached_property
    def _sorted_courses(self) -> list[tuple[str, int | None, int]]:
        return sorted(self._of_courses, key=lambda key: (key[2], key[0], key[1] or 0))

    @property
    def _courses(self) -> Iterator[Course]:
        for key in self._sorted_courses:
            yield Course(*key, blocks=sum(count for _, count in self._of_courses[key]))

    def _needs(self) -> tuple[tuple[tuple[int, int], ...], ...]:
        needs: list[list[tuple[int, int]]] = [[] for _ in self.marks]
        for nth, key in enumerate(self._sorted_courses):
            for mark, count in self._of_courses[key]:
                needs[mark] += [(key[2], nth)] * count
        return tuple(tuple(sorted(of_mark)) for of_mark in needs)

    # stock

    def _supply(self, on_hand: float, deliveries: Sequence[Delivery]) -> tuple[tuple[int, float], ...]:
        steps, total = [(0, on_hand)], on_hand
        for delivery in sorted(deliveries, key=lambda each: each.day):
            total += delivery.amount
            steps.append((max(0, (delivery.day - self.start).days), total))
        return tuple(steps)
