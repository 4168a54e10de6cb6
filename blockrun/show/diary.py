"""What happens in the yard on each day of a plan: equal things together, in the order of the clock."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Iterator
from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

import pandas as pd

from blockrun.cure.pour_life import pour_life_of
from blockrun.errors import BadPlan
from blockrun.mix.dilution import tank_of
from blockrun.planner.hasty import hasty_strip
from blockrun.planner.in_moulds import check_fits
from blockrun.planner.left_over import left_over
from blockrun.planner.lots import new_lots
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.old_enough import OldEnough
from blockrun.planner.on_rack import OnRacks
from blockrun.planner.uses import tank_fills
from blockrun.show.cubes import Cubes
from blockrun.show.day import Day, Due, Fill, Filled, Job, Limit, OffRack, Pour, Ready, Row, SlabsSawn, rows_of
from blockrun.show.frost import frost_near
from blockrun.show.inserts import NOTHING, inserts_for
from blockrun.show.kept_full import KeptFull
from blockrun.show.lifted import Lifted, Weak
from blockrun.show.lots import trial_day
from blockrun.show.overnight import NOTHING_STANDS, nights_of
from blockrun.show.pauses import Pauses
from blockrun.show.piece_numbers import numbers_of
from blockrun.show.saw_plans import saw_plans_of
from blockrun.show.sawing import AS_CAST, to_do, work_on_each
from blockrun.show.thumbed import thumb_notes
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.left_over import Ripe
    from blockrun.planner.lots import NewLot
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs import Thumbs
    from blockrun.show.thumbed import Note


_PLACE: Final = {task: place for place, task in enumerate(("sides", "strip", "move", "clean", "chore", "batch"))}
"""Tasks that begin in one minute, in the order in which they are told: sides before strips, batches last."""


class Diary:
    """The days of a plan.

    Parameters
    ----------
    plan : as the audit passes it.
    thumbs : what thumbs pressed into its moulds say; later and sooner strips are told, and what to press again.
    """

    def __init__(self, plan: Plan, thumbs: Thumbs | None = None) -> None:
        check_fits(plan)
        self.site, self.begun = plan.site, plan.begun
        self._kinds = {kind.kind: kind for kind in plan.site.moulds}
        self._shapes = {line.mark: line.shape for line in plan.ordered}
        self._roles = {line.mark: line.role for line in plan.ordered}
        self._n_mixes = Counter(mark for mark, _ in {(line.mark, line.mix) for line in plan.ordered})
        casts = rows_of(plan.tables.casts)
        self._work = work_on_each(plan.ordered, casts, numbers_of(plan.order, plan.ordered))
        self._ripe = OldEnough(plan)
        self._ages = self._ripe.ages
        self._cubes = Cubes(plan.tables)
        self._batches = {row.batch: row for row in rows_of(plan.tables.batches)}
        tasks = rows_of(plan.tables.tasks)
        if self.begun:  # what is before happened
            tasks = [row for row in tasks if row.start >= self.begun.since]
        self._kept_full = KeptFull(plan, tasks, self._old_enough)
        self._tasks = _by(tasks, lambda row: row.start.date())
        self._of_batch = _by(casts, lambda row: row.batch)
        self._of_turn = _by(casts, lambda row: (row.mould, row.turn))
        self._stripped = _by(casts, lambda row: (row.mould, row.base, row.strip))
        self._bared = _by(casts, lambda row: (row.mould, row.base, row.sides_off))
        self._into = _by(casts, lambda row: row.mould) | _by((row for row in casts if row.base), lambda row: row.base)
        self._ready: dict[date, list[Row]] = _by(casts, lambda row: row.ready.date())
        self._of_course = {
            (part, int(course)): sorted(row.ready.date() for row in rows)
            for (part, course), rows in _by(casts, lambda row: (row.part, row.course)).items()
            if pd.notna(course)
        }
        self._off_rack = _by(casts, lambda row: row.rack_to.date())
        self._delivered = self._deliveries()
        self._pauses = Pauses(plan)
        self._new_lots: dict[date, list[NewLot]] = _by(new_lots(plan), lambda new: new.day)
        self._trials: dict[date, list[NewLot]] = _by(new_lots(plan), lambda new: trial_day(new, self.site))
        self._on_racks = OnRacks(plan.tables.casts)
        self._nights = nights_of(plan.tables.casts)
        self.saw_plans = saw_plans_of(plan)
        self._saw_plans = {turn: saw_plan.number for saw_plan in self.saw_plans for turn in saw_plan.slabs}
        self._mixes = mix_proportions(plan.site, plan.order)
        self._lifted = Lifted(plan.site, plan.ordered, self._mixes, self.saw_plans)
        self._weak = Weak(plan.site, plan.ordered, self._mixes, self._ages.strip_h)
        tank = tank_of(plan.site.foam_generator)
        self._tank_fills = {row.batch: fills for row, fills in tank_fills(plan, tank)} if tank else {}
        self._left = left_over(plan)
        self._fillers: dict[date, list[Ripe]] = _by(self._left.ripe, lambda ripe: ripe.at.date())
        self._thumbed = thumbs.thumbed if thumbs else {}
        self._notes: dict[date, list[Note]] = _by(thumb_notes(plan, thumbs), lambda note: note[0].date())

    def _deliveries(self) -> dict[date, list[tuple[str, float]]]:
        stock = self.site.stock
        by_day: dict[date, list[tuple[str, float]]] = defaultdict(list)
        for what, deliveries in (("cement", stock.cement.deliveries), ("agent", stock.foaming_agent.deliveries)):
            for delivery in deliveries:
                by_day[delivery.day].append((what, delivery.amount))
        return by_day

    @property
    def reckoned(self) -> tuple[str, ...]:
        """An odd age of the strip, and strengths that were turned into ages, in words."""
        return (*hasty_strip(self.site), *self._ages.in_short())

    @property
    def first(self) -> date:
        """The day from which the yard is planned: what is before it happened."""
        return self.begun.since.date() if self.begun else self.site.calendar.start

    @property
    def last(self) -> date:
        """The day on which the last blocks become ready to lay, or the last test cubes are crushed."""
        return max((*self._ready, *self._cubes.days))

    def days(self, first: date, last: date) -> Iterator[Day]:
        """Days, both ends included, on which anything happens, pours are missed, or what stands is seen to."""
        happens = (self._tasks, self._ready, self._off_rack, self._delivered, self._fillers, self._notes)
        eventful = {day for days in (*happens, self._pauses.days, self._cubes.days, self._tended()) for day in days}
        for day in sorted(day for day in eventful if first <= day <= last):
            try:
                yield self._day(day)
            except KeyError as error:
                what = f"the tables of the plan do not fit together on {day}: nothing is known of {error}"
                raise BadPlan(what, "See what is wrong with: blockrun audit DIR") from error

    def _tended(self) -> Iterator[date]:
        """Days on which what stands overnight is kept damp, or covered from frost."""
        return (day for day, stands in self._nights.items() if stands.curing or frost_near(day, self.site))

    def _day(self, day: date) -> Day:
        return Day(
            day,
            self.site.crew.on(day) if self.site.calendar.is_working(day) else 0,
            self.site.weather.day(day),
            tuple(self._jobs(self._tasks.get(day, []))),
            tuple(self._delivered.get(day, [])),
            tuple(self._readied(day)),
            tuple(self._leaving(day)),
            self._nights.get(day, NOTHING_STANDS),
            self._pauses.why(day),
            tuple(self._fillers.get(day, [])),
            tuple(self._new_lots.get(day, [])),
            tuple(self._trials.get(day, [])),
            tuple(_name(task) for task in self._kept_full.on(day)),
            tuple(self._notes.get(day, [])),
            crushed=self._cubes.due(day),
        )

    def _jobs(self, tasks: list[Row]) -> list[Job | Pour]:
        """Things of one kind between two batches become one job; by start, a batch after what begins with it."""
        groups: dict[Hashable, list[Row]] = defaultdict(list)
        stretch = 0
        for task in sorted(tasks, key=lambda row: (row.start, _PLACE[row.task], row.mould, row.base)):
            stretch += task.task == "batch"
            if task.task == "strip":
                racks = tuple(sorted({cast.rack for cast in self._casts(task)}))
                groups[task.task, stretch, kind_named(task.mould), self._is_awaited(task), racks].append(task)
            elif task.task in {"sides", "clean"}:
                groups[task.task, stretch, kind_named(task.mould), self._is_awaited(task)].append(task)
            elif task.task == "chore":
                groups[task.task, task.start].append(task)
            elif task.task == "batch":
                groups[task.task, task.batch].append(task)
        moves = {(task.mould, task.base, task.start): task for task in tasks if task.task == "move"}
        return [self._pour(rows[0]) if rows[0].task == "batch" else self._job(rows, moves) for rows in groups.values()]

    def _job(self, rows: list[Row], moves: dict[tuple[str, str, datetime], Row]) -> Job:
        task = rows[0].task
        names = self._chores(rows) if task == "chore" else tuple(_name(row) for row in rows)
        moved = [moves[key] for row in rows if task == "strip" and (key := (row.mould, row.base, row.end)) in moves]
        end = max(row.end for row in (*rows, *moved))
        stripped = [cast for row in rows if task == "strip" for cast in self._casts(row)]
        racks = Counter(cast.rack for cast in stripped)
        return Job(
            task,
            rows[0].start,
            end,
            names,
            _most_at_once([*rows, *moved]),
            any(row.base for row in rows) and task != "sides",
            tuple(sorted(racks.items())),
            *self._ages_of(rows),
            to_do(stripped, self._work),
            tuple(self._slabs(rows)) if task == "strip" else (),
            tuple(self._due(rows, end)) if task != "chore" else (),
            self._lifted.said(stripped),
            self._weak.said(stripped, self._aged),
            self._lifted.by(stripped) if task == "strip" else 1,
            self._on_racks.at(rows[0].start) if task == "chore" else 0,
        )

    def _due(self, rows: list[Row], end: datetime) -> Iterator[Due]:
        """What of things done together a batch of the day waits for, or is begun, before the last of them is done."""
        waits = [(*needed, _name(row)) for row in rows if (needed := self._needed_by(row))]
        waits = [wait for wait in waits if min(wait[0], self._batches[wait[1]].start) < end]
        for (by, batch), alike in _by(sorted(waits), lambda wait: wait[:2]).items():
            yield Due(by, tuple(name for *_, name in alike), batch)

    def _is_awaited(self, row: Row) -> bool:
        """Whether the batch that is poured into it next is begun already: it is mixed meanwhile."""
        needed = self._needed_by(row)
        return needed is not None and bool(self._batches[needed[1]].start <= row.start)

    def _needed_by(self, row: Row) -> tuple[datetime, int] | None:
        """When what is stripped or cleaned is poured into again that day, less the time to clean it, and the batch."""
        pours = self._pours_into.get(_name(row), [])
        at, batch = next(iter(pours[bisect_left(pours, (row.end, 0)) :]), (None, 0))
        if at is None or at.date() != row.end.date():
            return None
        to_clean = self._kinds[kind_named(row.mould)].clean_time_min if row.task == "strip" else 0
        return at - timedelta(minutes=int(to_clean)), batch

    @cached_property
    def _pours_into(self) -> dict[str, list[tuple[datetime, int]]]:
        """When what is poured into each mould or base, and from which batch; in order."""
        batches = {mould: {cast.batch for cast in casts} for mould, casts in self._into.items()}
        return {
            mould: sorted((self._batches[batch].pour_from, int(batch)) for batch in those)
            for mould, those in batches.items()
        }

    def _slabs(self, strips: list[Row]) -> Iterator[SlabsSawn]:
        """Slabs among what is stripped, those together that are sawn alike into the same marks."""
        alike: dict[tuple[int, tuple[tuple[str, int], ...]], list[str]] = defaultdict(list)
        for strip in strips:
            casts = self._casts(strip)
            if number := self._saw_plans.get((casts[0].mould, casts[0].turn), 0):
                alike[number, tuple(Counter(cast.mark for cast in casts).items())].append(strip.mould)
        for (number, gives), moulds in sorted(alike.items()):
            yield SlabsSawn(number, tuple(moulds), gives)

    def _casts(self, task: Row) -> list[Row]:
        """Blocks that a sides or strip task is about."""
        return (self._bared if task.task == "sides" else self._stripped)[task.mould, task.base, task.end]

    def _ages_of(self, tasks: list[Row]) -> tuple[tuple[Limit, ...], datetime | None]:
        """What is not old enough when the day begins, and since when all the rest is."""
        if tasks[0].task not in {"sides", "strip"}:
            return (), None
        opening = datetime.combine(tasks[0].start.date(), time()) + timedelta(minutes=self.site.calendar.windows[0][0])
        moments = [(self._old_enough(task), _name(task)) for task in tasks]
        later = _by((pair for pair in sorted(moments) if pair[0] > opening), lambda pair: pair[0])
        limits = tuple(Limit(moment, tuple(name for _, name in pairs)) for moment, pairs in later.items())
        return limits, max((moment for moment, _ in moments if moment <= opening), default=None)

    def _old_enough(self, task: Row) -> datetime:
        thumbed = self._thumbed.get((task.mould, self._casts(task)[0].turn))
        if thumbed and (moved := thumbed.moved(task.task)):
            return moved
        kind = self._kinds[kind_named(task.mould)]
        age_h = self._ages.sides_h(kind) if task.task == "sides" else self._ages.strip_h
        assert age_h is not None
        aged = self._aged(max(self._casts(task), key=lambda cast: cast.poured), age_h)
        assert aged is not None
        return aged

    def _aged(self, cast: Row, age_h: float) -> datetime | None:
        """When a block is of an age, by the clock of its mould; None where it never is."""
        return self._ripe.at(cast.mould, cast.poured, age_h)

    def _chores(self, tasks: list[Row]) -> tuple[str, ...]:
        minute = tasks[0].start.hour * 60 + tasks[0].start.minute
        return tuple(chore.name for chore in self.site.chores if minute in chore.at)

    def _pour(self, task: Row) -> Pour:
        batch = self._batches[task.batch]
        fills = _by(self._of_batch.get(task.batch, []), lambda row: (row.mould, row.turn))  # none: cubes alone
        return Pour(
            batch,
            batch.start,
            batch.end,
            task.people,
            pour_life_of(self.site, foam_at=batch.foam_at),
            tuple(self._fill(casts, len(self._of_turn[turn])) for turn, casts in fills.items()),
            self._left.batches[task.batch],
            self._mixes[batch.mix],
            self._cubes.of_batch(task.batch),
            self._tank_fills.get(task.batch, ()),
        )

    def _fill(self, casts: list[Row], in_turn: int) -> Fill:
        by_cavity = tuple(self._filled(cast) for cast in sorted(casts, key=lambda row: row.cavity))
        saw_plan = self._saw_plans.get((casts[0].mould, casts[0].turn), 0)
        first, alone = casts[0], len(casts) == in_turn
        return Fill(first.mould, first.base, by_cavity, alone, saw_plan, int(first.turn))

    def _filled(self, cast: Row) -> Filled:
        kind = self._kinds[kind_named(cast.mould)]
        inserts = NOTHING if kind.saw else inserts_for(self._shapes[cast.mark], kind)
        return Filled(int(cast.cavity), cast.mark, inserts, self._roles[cast.mark], self._work.get(cast.cast, AS_CAST))

    def _readied(self, day: date) -> list[Ready]:
        """Blocks that become ready, those needed soonest first."""
        counts = Counter(
            (
                cast.needed.date() if pd.notna(cast.needed) else date.max,
                cast.part,
                int(cast.course) if pd.notna(cast.course) else 0,
                self._block(cast),
            )
            for cast in self._ready.get(day, [])
        )
        return [
            Ready(
                part,
                course or None,
                block,
                n,
                None if needed == date.max else needed,
                max(0, (day - needed).days),
                self._to_come(part, course, day),
            )
            for (needed, part, course, block), n in sorted(counts.items())
        ]

    def _to_come(self, part: str, course: int, day: date) -> int:
        """Blocks of a course that are not ready yet at the end of a day; of spares, which are for no course, none."""
        ready = self._of_course.get((part, course), ())
        return len(ready) - bisect_right(ready, day)

    def _leaving(self, day: date) -> Iterator[OffRack]:
        casts = sorted(self._off_rack.get(day, []), key=lambda cast: cast.rack_to)
        for rack, leaving in _by(casts, lambda cast: cast.rack).items():
            blocks = Counter(self._block(cast) for cast in leaving)
            yield OffRack(rack, leaving[0].rack_to, leaving[-1].rack_to, tuple(sorted(blocks.items())))

    def _block(self, cast: Row) -> str:
        """What a block is called: its mark, with its mix where the order has the mark in several."""
        mark: str = cast.mark
        return f"{mark} ({cast.mix})" if self._n_mixes[mark] > 1 else mark


def _by(rows: Iterable[Row], key: Any) -> dict[Any, list[Row]]:
    groups: dict[Any, list[Row]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    return groups


def _name(task: Row) -> str:
    """Name what the crew picks up: the base when there is one, except to take the sides off it."""
    name: str = task.mould if task.task == "sides" or not task.base else task.base
    return name


def _most_at_once(tasks: list[Row]) -> int:
    """People busy at the busiest minute."""
    busy: int = max(sum(other.people for other in tasks if other.start <= task.start < other.end) for task in tasks)
    return busy
