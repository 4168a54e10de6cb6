"""What happens in the yard on each day of a plan, in the order of the clock."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Container, Iterator
from datetime import date
from typing import TYPE_CHECKING

from blockrun.cure.pour_life import pour_life_of
from blockrun.errors import BadPlan
from blockrun.mix.dilution import tank_of
from blockrun.planner.agent_short import short_by_day
from blockrun.planner.hasty import hasty_strip
from blockrun.planner.in_moulds import check_fits
from blockrun.planner.left_over import left_over
from blockrun.planner.lots import new_lots
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.rows import Row, grouped, rows_of
from blockrun.planner.uses import tank_fills
from blockrun.show.apart import apart_of
from blockrun.show.cubes import Cubes
from blockrun.show.day import Day, Fill, Filled, OffRack, Pour, Ready
from blockrun.show.frost import frost_near
from blockrun.show.inserts import NOTHING, inserts_for
from blockrun.show.kept_full import KeptFull
from blockrun.show.lots import trial_day
from blockrun.show.overnight import NOTHING_STANDS, nights_of
from blockrun.show.pauses import Pauses
from blockrun.show.piece_numbers import numbers_of_cuts
from blockrun.show.saw_plans import saw_plans_of
from blockrun.show.sawing import AS_CAST, work_on_each
from blockrun.show.thumbed import ahead, thumb_notes
from blockrun.show.together import Jobs, name_of
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.left_over import Ripe
    from blockrun.planner.lots import NewLot
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.show.apart import Apart
    from blockrun.show.thumbed import Note


class Diary:
    """The days of a plan.

    Parameters
    ----------
    thumbs : what thumbs pressed into its moulds say; later and sooner strips are told, and what to press again.
    apart : batches outside their cards: none of their blocks is ready to lay.
    """

    def __init__(self, plan: Plan, thumbs: Thumbs | None = None, apart: Container[int] = ()) -> None:
        check_fits(plan)
        self._apart = apart
        self.site, self.begun = plan.site, plan.begun
        self._kinds = {kind.kind: kind for kind in plan.site.moulds}
        self._shapes = {line.mark: line.shape for line in plan.ordered}
        self._roles = {line.mark: line.role for line in plan.ordered}
        self._n_mixes = Counter(mark for mark, _ in {(line.mark, line.mix) for line in plan.ordered})
        casts = rows_of(plan.tables.casts)
        self._work = work_on_each(plan.ordered, casts, numbers_of_cuts(plan.order, plan.ordered))
        self._cubes = Cubes(plan.tables, plan.begun)
        self._batches = {row.batch: row for row in rows_of(plan.tables.batches)}
        self._told = (
            {(turn.mould, turn.turn, block.cavity): block for turn in self.begun.turns for block in turn.blocks}
            if self.begun
            else {}
        )
        tasks = rows_of(plan.tables.tasks)
        if self.begun:  # what is before happened
            tasks = [row for row in tasks if row.start >= self.begun.since]
        self._tasks = grouped(tasks, lambda row: row.start.date())
        self._of_batch = grouped(casts, lambda row: row.batch)
        self._of_turn = grouped(casts, lambda row: (row.mould, row.turn))
        self._ready: dict[date, list[Row]] = grouped(self._still_to_lay(casts), lambda row: row.ready.date())
        self._of_course = {
            (part, course): sorted(row.ready.date() for row in rows if row.batch not in apart)
            for (part, course), rows in grouped(casts, lambda row: (row.part, row.course)).items()
            if course
        }
        self._of_course_apart = Counter(
            (cast.part, cast.course) for cast in casts if cast.batch in apart and cast.course
        )
        self._last_ready = max((row.ready.date() for row in casts), default=plan.site.calendar.start)
        self._off_rack = grouped(self._still_to_leave(casts), lambda row: row.rack_to.date())
        self._delivered = self._deliveries()
        self._pauses = Pauses(plan)
        lots = [*new_lots(plan)]
        self._new_lots: dict[date, list[NewLot]] = grouped(lots, lambda new: new.day)
        self._trials: dict[date, list[NewLot]] = grouped(lots, lambda new: trial_day(new, self.site))
        self._agent_short_l = short_by_day(plan.site, plan.tables, plan.begun)
        self._nights = nights_of(plan.tables.casts)
        self.saw_plans = saw_plans_of(plan)
        self._saw_plans = {turn: saw_plan.number for saw_plan in self.saw_plans for turn in saw_plan.slabs}
        self._mixes = mix_proportions(plan.site, plan.order)
        thumbed = thumbs.thumbed if thumbs else {}
        self._jobs = Jobs(
            plan, casts, self._batches, self._mixes, self.saw_plans, work=self._work, thumbed=thumbed, apart=apart
        )
        self._kept_full = KeptFull(plan, casts, tasks, self._jobs.old_enough)
        tank = tank_of(plan.site.foam_generator)
        self._tank_fills = {row.batch: fills for row, fills in tank_fills(plan, tank)} if tank else {}
        self._left = left_over(plan)
        self._fillers: dict[date, list[Ripe]] = grouped(self._left.ripe, lambda ripe: ripe.at.date())
        self._notes: dict[date, list[Note]] = grouped(thumb_notes(plan, thumbs), lambda note: note.at.date())

    def _still_to_lay(self, casts: list[Row]) -> list[Row]:
        """Casts but those that are laid already, on the day of the plan or too young: nobody is to look for them."""
        laid = {name for name, block in self._told.items() if block.laid}
        return [cast for cast in casts if (cast.mould, cast.turn, cast.cavity) not in laid]

    def _still_to_leave(self, casts: list[Row]) -> list[Row]:
        """Casts but those of which it is recorded that they left their rack; what is there too long leaves at once."""
        if self.begun is None:
            return casts
        at_once = self.site.calendar.next_working_minute(self.begun.since)
        found = []
        for cast in casts:
            block = self._told.get((cast.mould, cast.turn, cast.cavity))
            if block is None or not (block.rack or block.off_rack):
                found.append(cast)
            elif not block.off_rack:
                found.append(cast._replace(rack_to=max(cast.rack_to, at_once)))
        return found

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
        return (*hasty_strip(self.site), *self._jobs.ages.in_short())

    @property
    def first(self) -> date:
        """The day from which the yard is planned: what is before it happened."""
        return self.begun.since.date() if self.begun else self.site.calendar.start

    @property
    def last(self) -> date:
        """The day on which the last blocks become ready to lay, or the last test cubes are crushed."""
        return max((self._last_ready, *self._cubes.days))

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
        notes = self._notes.get(day, [])
        first = frozenset(before for note in notes for before in note.before)
        jobs = self._jobs.of(self._tasks.get(day, []), self._pour, first)
        return Day(
            day,
            self.site.crew.on(day) if self.site.calendar.is_working(day) else 0,
            self.site.weather.day(day),
            tuple(jobs),
            tuple(self._delivered.get(day, [])),
            tuple(self._readied(day)),
            tuple(self._leaving(day)),
            self._nights.get(day, NOTHING_STANDS),
            self._pauses.why(day),
            tuple(self._fillers.get(day, [])),
            tuple(self._new_lots.get(day, [])),
            tuple(self._trials.get(day, [])),
            tuple(name_of(task) for task in self._kept_full.on(day)),
            tuple(ahead(note, jobs) for note in notes),
            crushed=self._cubes.due(day),
            apart=self._apart_of(self._ready.get(day, [])),
            agent_short_l=self._agent_short_l.get(day, 0.0),
        )

    def _pour(self, task: Row) -> Pour:
        batch = self._batches[task.batch]
        fills = grouped(self._of_batch.get(task.batch, []), lambda row: (row.mould, row.turn))  # none: cubes alone
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
        return Fill(first.mould, first.base, by_cavity, alone, saw_plan, first.turn)

    def _filled(self, cast: Row) -> Filled:
        kind = self._kinds[kind_named(cast.mould)]
        inserts = NOTHING if kind.saw else inserts_for(self._shapes[cast.mark], kind)
        return Filled(cast.cavity, cast.mark, inserts, self._roles[cast.mark], self._work.get(cast.cast, AS_CAST))

    def _readied(self, day: date) -> list[Ready]:
        """Blocks that become ready, those needed soonest first."""
        counts = Counter(
            (
                cast.needed.date() if cast.needed else date.max,
                cast.part,
                cast.course or 0,
                self._block(cast),
            )
            for cast in self._ready.get(day, [])
            if cast.batch not in self._apart
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
                self._of_course_apart[part, course],
            )
            for (needed, part, course, block), n in sorted(counts.items())
        ]

    def _to_come(self, part: str, course: int, day: date) -> int:
        """Blocks of a course that are not ready yet at the end of a day; of spares, which are for no course, none."""
        ready = self._of_course.get((part, course), ())
        return len(ready) - bisect_right(ready, day)

    def _leaving(self, day: date) -> Iterator[OffRack]:
        casts = sorted(self._off_rack.get(day, []), key=lambda cast: cast.rack_to)
        for rack, leaving in grouped(casts, lambda cast: cast.rack).items():
            blocks = Counter(self._block(cast) for cast in leaving)
            first, last = leaving[0].rack_to, leaving[-1].rack_to
            yield OffRack(rack, first, last, tuple(sorted(blocks.items())), self._apart_of(leaving))

    def _apart_of(self, casts: list[Row]) -> tuple[Apart, ...]:
        """Those of batches outside their cards."""
        of_casts = ((cast.batch, self._block(cast), (cast.mould, f"turn {cast.turn}")) for cast in casts)
        return apart_of(of_casts, self._apart)

    def _block(self, cast: Row) -> str:
        """What a block is called: its mark, with its mix where the order has the mark in several."""
        mark: str = cast.mark
        return f"{mark} ({cast.mix})" if self._n_mixes[mark] > 1 else mark
