"""Which blocks each course gets, in the order in which courses are needed, and what of it is missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.morning import NEVER, Counts, CourseNow, Some
from blockrun.yard.now import UNKNOWN, Kind, State
from blockrun.yard.ready.supply import Supply

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned, PlannedCast


@dataclass
class _Course:
    """What a course is of."""

    part: str
    course: int | None
    wanted: Counter[Kind] = field(default_factory=Counter)
    needed: date | None = None
    laid: int = 0
    needs: dict[Kind, list[date]] = field(default_factory=dict)

    @property
    def order(self) -> tuple[date, str, int]:
        return self.needed or date.max, self.part, self.course or 0


@dataclass
class _Given:
    """Blocks that a course gets from one kind of place."""

    blocks: Counter[str] = field(default_factory=Counter)
    lay_from: list[datetime | None] = field(default_factory=list)
    poured: set[date] = field(default_factory=set)
    unplanned: Counter[str] = field(default_factory=Counter)
    found: set[date] = field(default_factory=set)

    def some(self, where: str) -> Some:
        known = [moment for moment in self.lay_from if moment is not None]
        lay_from = max(known) if known and len(known) == len(self.lay_from) else None
        days, found = tuple(sorted(self.poured)), tuple(sorted(self.found))
        return Some(where, counts_of(self.blocks), lay_from, days, counts_of(self.unplanned), found)


def courses_now(plan: AsPlanned, state: State, supply: dict[Kind, list[Supply]], at: datetime) -> list[CourseNow]:
    """All courses that are not yet laid whole, in the order in which they are needed."""
    planned = _planned(plan, state)
    found = [
        _now(course, plan.domes, supply, planned, at) for course in _wanted(plan, state) if course.wanted.total() > 0
    ]
    return [*_with_those_under(found)]


def _with_those_under(courses: list[CourseNow]) -> Iterator[CourseNow]:
    """Courses, each with the lowest one of its part under it that must be laid first and cannot be."""
    lowest: dict[str, int] = {}
    for course in courses:
        if course.course is not None and not course.is_whole:
            lowest[course.part] = min(course.course, lowest.get(course.part, course.course))
    for course in courses:
        under = lowest.get(course.part)
        is_under = under is not None and course.course is not None and under < course.course
        yield replace(course, after=under) if is_under else course


def counts_of(blocks: Counter[str]) -> Counts:
    """Blocks by mark, as a morning says them."""
    return tuple(sorted((mark, count) for mark, count in blocks.items() if count > 0))


def by_mark(counts: dict[Kind, int]) -> Counts:
    """The same, of several mixes together."""
    found: Counter[str] = Counter()
    for (mark, _), count in counts.items():
        found[mark] += count
    return counts_of(found)


def _wanted(plan: AsPlanned, state: State) -> list[_Course]:
    """Courses by need date, as ordered, each without what is laid of it."""
    found: dict[tuple[str, int | None], _Course] = {}
    for cast in plan.casts:
        if cast.part and not cast.spare:
            course = found.setdefault((cast.part, cast.course), _Course(cast.part, cast.course))
            kind = (cast.mark, cast.mix)
            course.wanted[kind] += 1
            needed = cast.needed.date() if cast.needed else None
            course.needs.setdefault(kind, []).append(needed or date.max)
            course.needed = min(filter(None, (course.needed, needed)), default=None)
    for line in plan.found:
        course = found.setdefault((line.part, line.course), _Course(line.part, line.course))
        course.wanted[line.mark, line.mix] += line.count
        course.needs.setdefault((line.mark, line.mix), []).extend([line.needed or date.max] * line.count)
        course.needed = min(filter(None, (course.needed, line.needed)), default=None)
    courses = sorted(found.values(), key=lambda course: course.order)
    for (part, number), pile in sorted(state.laid.items()):
        left = Counter(pile.counts)
        # blocks told of no course, and those over what a course has, are in the next that lacks them
        own = [one for one in courses if one.part == part and (one.course or 0) == number]
        _lay(left, own)
        _lay(left, [one for one in courses if one.part == part])
    return courses


def _lay(left: Counter[Kind], courses: Iterable[_Course]) -> None:
    """Take what is laid off what courses want."""
    for course in courses:
        for kind in [*left]:
            laid = min(left[kind], course.wanted[kind])
            course.wanted[kind] -= laid
            left[kind] -= laid
            course.laid += laid


def _planned(plan: AsPlanned, state: State) -> dict[Kind, list[PlannedCast]]:
    """Casts of batches that nobody poured yet, by kind, the first pour first."""
    found: dict[Kind, list[PlannedCast]] = {}
    for cast in sorted(plan.casts, key=lambda one: one.poured):
        if plan.recorded_as(cast.batch) not in state.poured:
            found.setdefault((cast.mark, cast.mix), []).append(cast)
    return found


def _now(
    course: _Course,
    domes: frozenset[str],
    supply: dict[Kind, list[Supply]],
    planned: dict[Kind, list[PlannedCast]],
    at: datetime,
) -> CourseNow:
    given: dict[str, _Given] = {}
    missing, ready, apart = _Given(), 0, 0
    dues: list[tuple[date, datetime | None]] = []
    for kind, wanted in sorted(course.wanted.items()):
        left = wanted
        # what is laid is what was needed first
        needs = sorted(course.needs[kind])[-wanted:] if wanted else []
        for one, count in _taken(supply.get(kind, []), wanted):
            due, needs, left = needs[:count], needs[count:], left - count
            if one.lay_from is not None and one.lay_from <= at:
                ready += count
            else:
                _give(given.setdefault(one.said, _Given()), one, count)
                dues += [(needed, one.lay_from) for needed in due]
                apart += count * one.is_apart
        missing.blocks[kind[0]] += left
        of_kind = planned.get(kind, [])
        missing.poured |= {cast.poured.date() for cast in of_kind[:left]}
        missing.unplanned[kind[0]] += max(0, left - len(of_kind))
        del of_kind[:left]
    short = missing.some("") if missing.blocks.total() else None
    some = sorted((one.some(where) for where, one in given.items()), key=lambda one: (one.lay_from or NEVER, one.where))
    ring = course.part in domes
    in_all = course.wanted.total() + course.laid
    return CourseNow(
        course.part, course.course, ring, course.needed, in_all, course.laid, ready, tuple(some), short,
        dues=tuple(_last_of_each(dues)), apart=apart,
    )  # fmt: skip


def _last_of_each(dues: Iterable[tuple[date, datetime | None]]) -> Iterator[tuple[date, datetime | None]]:
    """Days on which blocks are needed, each with when the last of them may be laid."""
    moments: dict[date, list[datetime]] = {}
    for needed, lay_from in dues:
        if needed != date.max:
            moments.setdefault(needed, []).append(lay_from or NEVER)
    for needed, of_day in sorted(moments.items()):
        yield needed, None if max(of_day) == NEVER else max(of_day)


def _give(given: _Given, one: Supply, count: int) -> None:
    given.blocks[one.kind[0]] += count
    given.lay_from.append(one.lay_from)
    days = given.found if one.lot.batch == UNKNOWN else given.poured
    days.add(one.lot.poured.date())


def _taken(supply: list[Supply], wanted: int) -> Iterator[tuple[Supply, int]]:
    """Blocks of one kind, the soonest ready first, taken away."""
    for one in supply:
        count = min(one.n_blocks, wanted)
        if count:
            one.n_blocks -= count
            wanted -= count
            yield one, count
