"""What a plan made anew does otherwise than the one before on its next working days: words that `show` prints."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from blockrun.optimiser.otherwise import DAYS, SAME_TIME_MIN
from blockrun.planner.rows import rows_of
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


@dataclass(frozen=True)
class BatchOfDay:
    """A batch, as it is told.

    Attributes
    ----------
    number : in its plan.
    moulds : it is poured into, with how many blocks of which marks.
    """

    number: int
    start: datetime
    mix: str
    bags: float
    mixer: str
    moulds: tuple[str, ...]
    marks: tuple[tuple[str, int], ...]

    @property
    def looks(self) -> tuple[object, ...]:
        """What makes two batches the same to those who mix and pour them: which of equal moulds does not."""
        return (
            self.mixer,
            self.mix,
            self.bags,
            self.marks,
            tuple(sorted(map(kind_named, self.moulds))),
        )


@dataclass(frozen=True)
class DayChanged:
    """A day.

    Attributes
    ----------
    same : batches as before; pairs of the plan before and this one, here and in ``moved``.
    moved : to another time of the day.
    gone, new : batches that the plan before had that day, and those that it had not.
    """

    day: date
    same: tuple[tuple[BatchOfDay, BatchOfDay], ...]
    moved: tuple[tuple[BatchOfDay, BatchOfDay], ...]
    gone: tuple[BatchOfDay, ...]
    new: tuple[BatchOfDay, ...]

    @property
    def is_changed(self) -> bool:
        """Whether anything is otherwise."""
        return bool(self.moved or self.gone or self.new)


def next_days(before: Plan, now: Plan, poured: frozenset[int]) -> list[DayChanged]:
    """The next working days on which either plan pours.

    Parameters
    ----------
    before, now : the plan before and the one made anew.
    poured : numbers of batches of the plan before that were poured: they are no change.
    """
    assert now.begun is not None
    working = _working(now, now.begun.since)
    # what was due before and was not poured is due now
    old = _by_day(before, poured, working[0])
    new = _by_day(now, now.begun.poured, working[0])
    return [_day(day, old.get(day, []), new.get(day, [])) for day in working if day in old or day in new]


def _working(plan: Plan, since: datetime) -> list[date]:
    """The next working days, today among them while there is time left in it."""
    calendar = plan.site.calendar
    first = calendar.next_working_minute(since).date()
    return [calendar.next_working_day(first, n) for n in range(DAYS)]


def _by_day(plan: Plan, poured: frozenset[int], first: date) -> dict[date, list[BatchOfDay]]:
    """Batches that were not poured, by the day on which they are due."""
    moulds: defaultdict[int, set[str]] = defaultdict(set)
    marks: defaultdict[int, Counter[str]] = defaultdict(Counter)
    for cast in rows_of(plan.tables.casts[["batch", "mould", "mark"]]):
        moulds[cast.batch].add(cast.mould)
        marks[cast.batch][cast.mark] += 1
    found: defaultdict[date, list[BatchOfDay]] = defaultdict(list)
    rows = (row for row in rows_of(plan.tables.batches) if row.batch not in poured)
    for row in sorted(rows, key=lambda row: row.start):
        of_batch = tuple(sorted(marks[row.batch].items()))
        batch = BatchOfDay(
            row.batch, row.start, row.mix, row.bags, row.mixer, tuple(sorted(moulds[row.batch])), of_batch
        )
        found[max(row.start.date(), first)].append(batch)
    return dict(found)


def _day(day: date, old: list[BatchOfDay], new: list[BatchOfDay]) -> DayChanged:
    pairs = list(_pairs(old, new))
    olds, news = {one.number for one, _ in pairs}, {other.number for _, other in pairs}
    moved = [pair for pair in pairs if abs(pair[0].start - pair[1].start) >= timedelta(minutes=SAME_TIME_MIN)]
    return DayChanged(
        day,
        tuple(pair for pair in pairs if pair not in moved),
        tuple(moved),
        tuple(batch for batch in old if batch.number not in olds),
        tuple(batch for batch in new if batch.number not in news),
    )


def _pairs(old: list[BatchOfDay], new: list[BatchOfDay]) -> Iterator[tuple[BatchOfDay, BatchOfDay]]:
    """Batches that look the same, each with the one nearest to it by the clock."""
    left = list(new)
    for one in old:
        alike = [other for other in left if other.looks == one.looks]
        if alike:
            other = min(alike, key=lambda other: abs(other.start - one.start))
            left.remove(other)
            yield one, other
