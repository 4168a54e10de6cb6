"""From a saved plan to what a run has to know of it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.errors import BadPlan, BlockrunError
from blockrun.mix import batch_sizes
from blockrun.planner.ages import Ages, ages_of
from blockrun.planner.begun.books import there_and_to_come
from blockrun.planner.clocks import Clocks
from blockrun.planner.folder import AGAIN
from blockrun.planner.hot_hours import mixes_in_time
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.rows import rows_of
from blockrun.planner.stopped import why_stopped
from blockrun.planner.uses import AGENT, CEMENT
from blockrun.units import MINUTES_A_DAY
from blockrun.yard.hot import hot_minutes
from blockrun.yard.numbered import Numbered
from blockrun.yard.ripening import Minutes, Ripening, ages_within, colder_site, warm_minutes
from blockrun.yard.setting import (
    Before,
    Day,
    Kind,
    Load,
    PlannedBatch,
    Setting,
)
from blockrun.yard.underway import before_run, out_of_use

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.risk.rates import Rates
    from blockrun.site import DayWeather, Delivery, MouldKind, Site

CARRIED_ON_DAYS: Final = 120
"""Days after the last one planned on which a run may still pour, our choice: what is not laid then counts as late."""

_CURED_DAYS: Final = 60
_ENDLESS: Final = 1_000_000
_ROUNDING: Final = 1e-6


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
    except BlockrunError:
        raise
    except (LookupError, ValueError, StopIteration) as error:
        todo = f"See what is wrong: blockrun audit DIR. {AGAIN}"
        raise BadPlan("the tables of the plan do not fit its yard", todo) from error


@dataclass(frozen=True)
class _Given:
    plan: Plan
    rates: Rates

    @cached_property
    def numbered(self) -> Numbered:
        return Numbered(self.plan)

    def setting(self) -> Setting:
        site = self.plan.site
        days = tuple(self._days())
        stock = site.stock
        return Setting(
            mixes=self.numbered.mixes,
            marks=tuple(mark for mark, _ in self.numbered.marks),
            kinds=tuple(self._kind(kind) for kind in site.moulds),
            batches=tuple(self._batches()),
            turns=tuple(self.numbered.planned(turn) for turn in self.numbered.turns),
            loads=self.loads,
            casts=tuple(tuple(self.numbered.casts_of(mark)) for mark in self.numbered.marks),
            days=days,
            windows=site.calendar.windows,
            wanted=tuple(self.numbered.wanted[mark] for mark in self.numbered.marks),
            courses=tuple(self.numbered.courses),
            needs=self.numbered.needs(),
            n_blocks=len(self.numbered.rows),
            spares={nth: self.numbered.day(row.poured) for nth, row in enumerate(self.numbered.rows) if row.spare},
            days_of_spares=self.numbered.days_of_spares,
            places=sum(rack.places for rack in site.racks) if site.curing.rack_for_min else _ENDLESS,
            rack_for=site.curing.rack_for_min,
            ripening=self._ripening(),
            people=site.crew.people,
            least_c=site.curing.least_air_c,
            colder_c=self.rates.cold_snaps.colder_c,
            lowest_c=tuple(self._air(number).min_c for number in range(self.n_days)),
            cement=self._supply(CEMENT, stock.cement.on_hand_bags, stock.cement.deliveries),
            agent=self._supply(AGENT, stock.foaming_agent.on_hand_l, stock.foaming_agent.deliveries),
            more_cement=self._more_after(stock.cement.lead_time_min),
            more_agent=self._more_after(stock.foaming_agent.lead_time_min),
            stack=site.stack,
            formats=self.numbered.formats,
            before=self._before,
        )

    @cached_property
    def _before(self) -> Before:
        return before_run(self.plan, self.numbered)

    @cached_property
    def n_days(self) -> int:
        last = max(turn.cleaned for turn in self.numbered.turns)
        return (last.date() - self.numbered.start).days + 1 + CARRIED_ON_DAYS + _CURED_DAYS

    def _air(self, number: int) -> DayWeather:
        return self.plan.site.weather.day(self.numbered.start + timedelta(days=number))

    def _days(self) -> Iterator[Day]:
        site = self.plan.site
        first = min(self.numbered.minute(turn.filled) for turn in self.numbered.turns) // MINUTES_A_DAY
        chores = tuple((at, chore.time_min, chore.people) for chore in site.chores for at in chore.at)
        for number in range(self._before.day, self.n_days - _CURED_DAYS):
            on = self.numbered.start + timedelta(days=number)
            if site.calendar.is_working(on):
                last_foam = -1 if why_stopped(site, on) else site.calendar.last_foam_min
                hot = hot_minutes(site, on, self._takes), hot_minutes(self._colder, on, self._takes)
                yield Day(number, site.crew.on(on), last_foam, chores if number >= first else (), hot)

    # moulds and mixers

    def _kind(self, kind: MouldKind) -> Kind:
        most = max([kind.cavities, *(len(turn.casts) for turn in self.numbered.turns if turn.kind == kind)])
        move = self.plan.site.move_time_min
        return Kind(
            count=kind.count,
            cavities=self._fillable(kind),
            strip=kind.strip_and_saw_min,
            clean=kind.clean_time_min,
            bases=kind.bases or 0,
            sides=kind.sides_time_min or 0,
            sides_h=self._ages.sides_h(kind) or 0.0,
            moves=tuple(math.ceil(n * move - _ROUNDING) for n in range(most + 1)),
            no_moulds=out_of_use(self.plan, kind.mould_names),
            no_bases=out_of_use(self.plan, kind.base_names),
        )

    def _fillable(self, kind: MouldKind) -> int:
        """Cavities that may be filled so that an empty stack has room for what comes of them."""
        stack, formats = self.plan.site.stack, self.numbered.formats_of(kind)
        if stack is None or kind.saw or not formats:
            return kind.cavities
        return min(kind.cavities, stack.places * (stack.layers if len(formats) == 1 else 1))

    @cached_property
    def loads(self) -> tuple[tuple[tuple[Load, ...], ...], ...]:
        site = self.plan.site
        made = mix_proportions(site, self.plan.order)
        loads = tuple(
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
            for mix in self.numbered.mixes
        )
        minutes = (
            (mix, load.slurry, load.from_foam, load.wash)
            for mix, of_mix in enumerate(loads)
            for load in itertools.chain(*of_mix)
            if load.room_l > 0
        )
        in_time = mixes_in_time(site, minutes)
        return tuple(
            of_mix if mix in in_time else tuple(tuple(replace(load, hardy=True) for load in sizes) for sizes in of_mix)
            for mix, of_mix in enumerate(loads)
        )

    @cached_property
    def _takes(self) -> set[int]:
        """Minutes from the foam to the last cavity of all that is not poured in too hot an hour."""
        every = itertools.chain.from_iterable(itertools.chain.from_iterable(self.loads))
        return {load.from_foam for load in every if not load.hardy}

    # ages

    @cached_property
    def _ages(self) -> Ages:
        return ages_of(self.plan.site, self.plan.order, self.numbered.mixes)

    @cached_property
    def _colder(self) -> Site:
        return colder_site(self.plan.site, self.rates.cold_snaps.colder_c)

    def _ripening(self) -> Ripening:
        site, ages, colder, n_days = self.plan.site, self._ages, self._colder, self.n_days
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
        clocks = [Clocks(site, order, self.numbered.lines) for site in (self.plan.site, colder)]
        found = {}
        for nth, kind in enumerate(self.plan.site.moulds):
            if clocks[0].casts(kind):
                for hours in {self._ages.strip_h, self._ages.sides_h(kind) or self._ages.strip_h}:
                    found[nth, hours] = warm_minutes(clocks[0], clocks[1], kind, hours, days)
        return found

    def _batches(self) -> Iterator[PlannedBatch]:
        mixers = [mixer.name for mixer in self.plan.site.mixers]
        cubes_l = self.plan.tables.cubes.groupby("batch")["volume_l"].sum().to_dict()
        rows = sorted(rows_of(self.plan.tables.batches), key=lambda row: row.start)
        poured = self.plan.begun.poured if self.plan.begun else frozenset()
        for nth, row in enumerate(rows):
            if row.batch in poured:
                continue
            mix, start = self.numbered.mixes.index(row.mix), self.numbered.minute(row.start)
            sizes = self.loads[mix][mixers.index(row.mixer)]
            load = next(size for size in sizes if abs(size.bags - row.bags) < _ROUNDING)
            parts = tuple(
                (turn, tuple(self.numbered.fills[turn, batch]))
                for turn, batch in self.numbered.fills
                if batch == row.batch
            )
            in_cubes = float(cubes_l.get(row.batch, 0.0)) * (1 + self.plan.site.overfill)  # that at the most
            yield PlannedBatch(nth, start // MINUTES_A_DAY, start, mix, load, in_cubes, parts)

    # stock

    def _more_after(self, lead_time_min: int | None) -> int:
        """Days from running out of something until more is there."""
        return -(-(self.rates.more_after_min if lead_time_min is None else lead_time_min) // MINUTES_A_DAY)

    def _supply(self, of: str, on_hand: float, to_come: tuple[Delivery, ...]) -> tuple[tuple[int, float], ...]:
        total, deliveries = there_and_to_come(self.plan.site, self.plan.begun, of, on_hand, to_come)
        steps = [(0, total)]
        for delivery in sorted(deliveries, key=lambda each: each.day):
            total += delivery.amount
            steps.append((max(0, (delivery.day - self.numbered.start).days), total))
        return tuple(steps)
