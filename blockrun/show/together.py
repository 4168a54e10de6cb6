"""Tasks of a day that are done together: equal things between two batches are one job, with what it waits for."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Callable, Container, Hashable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.planner.old_enough import OldEnough
from blockrun.planner.on_rack import OnRacks
from blockrun.planner.rows import Row, grouped
from blockrun.show.apart import apart_of
from blockrun.show.day import Due, Job, Limit, Pour, SlabsSawn
from blockrun.show.lifted import Lifted, Weak
from blockrun.show.sawing import Work, to_do
from blockrun.site.calendar import moment_at
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.thumbed import Thumbed
    from blockrun.show.saw_plans import SawPlan
    from blockrun.show.thumbed import Before

_PLACE: Final = {task: place for place, task in enumerate(("sides", "strip", "move", "clean", "chore", "batch"))}
"""Tasks that begin in one minute, in the order in which they are told: sides before strips, batches last."""


class Jobs:
    """The tasks of a plan as jobs.

    Parameters
    ----------
    plan : as the audit passes it; ``casts`` and ``batches`` are rows of its tables, these by number.
    work : what is to be done to a block after its strip, by the number of its cast.
    thumbed : what thumbs say of turns, by mould and number.

    Attributes
    ----------
    ages : at which blocks are stripped and laid.
    """

    def __init__(
        self,
        plan: Plan,
        casts: Sequence[Row],
        batches: Mapping[int, Row],
        mixes: Mapping[str, Proportions],
        saw_plans: Sequence[SawPlan],
        *,
        work: Mapping[int, Work],
        thumbed: Mapping[tuple[str, int], Thumbed],
        apart: Container[int],
    ) -> None:
        self._site, self._batches, self._work, self._thumbed = plan.site, batches, work, thumbed
        self._apart = apart
        self._kinds = {kind.kind: kind for kind in plan.site.moulds}
        self._ripe = OldEnough(plan)
        self.ages = self._ripe.ages
        self._stripped = grouped(casts, lambda row: (row.mould, row.base, row.strip))
        self._bared = grouped(casts, lambda row: (row.mould, row.base, row.sides_off))
        based = (row for row in casts if row.base)
        self._into = grouped(casts, lambda row: row.mould) | grouped(based, lambda row: row.base)
        self._on_racks = OnRacks(plan.tables.casts)
        self._saw_plans = {turn: saw_plan.number for saw_plan in saw_plans for turn in saw_plan.slabs}
        self._lifted = Lifted(plan.site, plan.ordered, mixes, saw_plans)
        self._weak = Weak(plan.site, plan.ordered, mixes, self.ages.strip_h)

    def of(
        self, tasks: list[Row], poured: Callable[[Row], Pour], thumb_first: Container[Before] = ()
    ) -> list[Job | Pour]:
        """Things of one kind between two batches become one job; by start, a batch after what begins with it.

        Parameters
        ----------
        poured : what is told of the task of a batch.
        thumb_first : what is done on that day only once a thumb was pressed.
        """
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
        return [
            poured(rows[0]) if rows[0].task == "batch" else self._job(rows, moves, thumb_first)
            for rows in groups.values()
        ]

    def old_enough(self, task: Row) -> datetime:
        """Since when the sides or the strip may be, by the clock of the mould or as thumbs say."""
        casts = self._casts(task)
        thumbed = self._thumbed.get((task.mould, casts[0].turn))
        if thumbed and (moved := thumbed.moved(task.task)):
            return moved
        poured = max(cast.poured for cast in casts)
        aged = (self._ripe.sides if task.task == "sides" else self._ripe.strip)(task.mould, poured)
        assert aged is not None
        return aged

    def _job(self, rows: list[Row], moves: dict[tuple[str, str, datetime], Row], thumb_first: Container[Before]) -> Job:
        task = rows[0].task
        names = self._chores(rows) if task == "chore" else tuple(name_of(row) for row in rows)
        moved = [moves[key] for row in rows if task == "strip" and (key := (row.mould, row.base, row.end)) in moves]
        end = max(row.end for row in (*rows, *moved))
        stripped = [cast for row in rows if task == "strip" for cast in self._casts(row)]
        racks = Counter(cast.rack for cast in stripped)
        pressed = tuple(name for name in names if (task, name) in thumb_first)
        return Job(
            task,
            rows[0].start,
            end,
            names,
            _most_at_once([*rows, *moved]),
            any(row.base for row in rows) and task != "sides",
            tuple(sorted(racks.items())),
            *self._ages_of(rows, pressed),
            to_do(stripped, self._work),
            tuple(self._slabs(rows)) if task == "strip" else (),
            tuple(self._due(rows, end)) if task != "chore" else (),
            self._lifted.said(stripped),
            self._weak.said(stripped, self._aged),
            self._lifted.by(stripped) if task == "strip" else 1,
            self._on_racks.at(rows[0].start) if task == "chore" else 0,
            pressed,
            apart_of(((cast.batch, cast.mark, (cast.base or cast.mould, "")) for cast in stripped), self._apart),
        )

    def _due(self, rows: list[Row], end: datetime) -> Iterator[Due]:
        """What of things done together a batch of the day waits for, or is begun, before the last of them is done."""
        waits = [(*needed, name_of(row)) for row in rows if (needed := self._needed_by(row))]
        waits = [wait for wait in waits if min(wait[0], self._batches[wait[1]].start) < end]
        for (by, batch), alike in grouped(sorted(waits), lambda wait: wait[:2]).items():
            yield Due(by, tuple(name for *_, name in alike), batch)

    def _is_awaited(self, row: Row) -> bool:
        """Whether the batch that is poured into it next is begun already: it is mixed meanwhile."""
        needed = self._needed_by(row)
        return needed is not None and bool(self._batches[needed[1]].start <= row.start)

    def _needed_by(self, row: Row) -> tuple[datetime, int] | None:
        """When what is stripped or cleaned is poured into again that day, less the time to clean it, and the batch."""
        pours = self._pours_into.get(name_of(row), [])
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
            mould: sorted((self._batches[batch].pour_from, batch) for batch in those)
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

    def _ages_of(self, tasks: list[Row], pressed: Container[str]) -> tuple[tuple[Limit, ...], datetime | None]:
        """What is not old enough when the day begins, and since when all the rest is, but what waits for a thumb."""
        if tasks[0].task not in {"sides", "strip"}:
            return (), None
        opening = moment_at(tasks[0].start.date(), self._site.calendar.begins_min)
        moments = [(self.old_enough(task), name_of(task)) for task in tasks]
        later = grouped((pair for pair in sorted(moments) if pair[0] > opening), lambda pair: pair[0])
        limits = tuple(Limit(moment, tuple(name for _, name in pairs)) for moment, pairs in later.items())
        rest = (moment for moment, name in moments if moment <= opening and name not in pressed)
        return limits, max(rest, default=None)

    def _aged(self, cast: Row, age_h: float) -> datetime | None:
        """When a block is of an age, by the clock of its mould; None where it never is."""
        return self._ripe.at(cast.mould, cast.poured, age_h)

    def _chores(self, tasks: list[Row]) -> tuple[str, ...]:
        minute = tasks[0].start.hour * 60 + tasks[0].start.minute
        return tuple(chore.name for chore in self._site.chores if minute in chore.at)


def name_of(task: Row) -> str:
    """Name what the crew picks up: the base when there is one, except to take the sides off it."""
    name: str = task.mould if task.task == "sides" or not task.base else task.base
    return name


def _most_at_once(tasks: list[Row]) -> int:
    """People busy at the busiest minute."""
    busy: int = max(sum(other.people for other in tasks if other.start <= task.start < other.end) for task in tasks)
    return busy
