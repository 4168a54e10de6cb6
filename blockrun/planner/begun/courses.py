"""Courses that a plan made anew has ready on another day than the one before: words that `show` prints."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from blockrun.order import DomePart
from blockrun.planner.rows import rows_of

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


_Days = Mapping[date | None, date]
"""By the day on which blocks of a course are needed, when the last of them is ready: its lining may come later."""


@dataclass(frozen=True)
class CourseMoved:
    """A course, by those of its blocks that are needed on one day and moved; by those that are late first.

    Attributes
    ----------
    part, course : None for the course of a part without any.
    ring : whether it is one of a dome.
    was, now : when the last of these may be laid, by the plan before and by the one made anew.
    needed : when they are, by that one; None where it is not said.
    """

    part: str
    course: int | None
    ring: bool
    was: date
    now: date
    needed: date | None

    @property
    def days_late(self) -> int:
        """Days by which they are late now."""
        return max(0, (self.now - self.needed).days) if self.needed else 0


def courses_moved(before: Plan, now: Plan) -> list[CourseMoved]:
    """Courses of both plans that are ready sooner or later, by part and course."""
    old, new = _courses(before), _courses(now)
    domes = {part.name for part in now.order.parts if isinstance(part, DomePart)}
    found = []
    for (part, course), days in sorted(new.items()):
        if (part, course) in old:
            moved = [CourseMoved(part, course or None, part in domes, *one) for one in _moved(old[part, course], days)]
            found += [max(moved, key=_worst)] if moved else []
    return found


def _moved(before: _Days, now: _Days) -> Iterator[tuple[date, date, date | None]]:
    """When those of each need date were ready before and are now, where that is another day."""
    last = max(before.values())  # of blocks that were needed on another day then
    for needed, ready in now.items():
        was = before.get(needed, last)
        if was != ready:
            yield was, ready, needed


def _worst(moved: CourseMoved) -> tuple[bool, int, date]:
    """What is late, and later than before, is told before all else; then what is ready last."""
    is_later = moved.now > moved.was
    return is_later and moved.days_late > 0, moved.days_late * is_later, moved.now


def _courses(plan: Plan) -> dict[tuple[str, int], dict[date | None, date]]:
    """When the last block of each course is ready, by the day it is needed; course 0 for a part without any."""
    found: defaultdict[tuple[str, int], dict[date | None, date]] = defaultdict(dict)
    for cast in rows_of(plan.tables.casts):
        if cast.part:
            days, day = found[cast.part, cast.course or 0], cast.needed and cast.needed.date()
            days[day] = max(days.get(day, date.min), cast.ready.date())
    return dict(found)
