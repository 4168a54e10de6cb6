"""What is asked to be printed: a plan, from which day to which, and all that several sheets are made from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from itertools import groupby, takewhile
from typing import TYPE_CHECKING

from blockrun.planner.full import full_of
from blockrun.show.diary import Diary
from blockrun.show.paper.racks import Racks
from blockrun.show.paper.standing import StandingFull

if TYPE_CHECKING:
    from blockrun.planner.full import Full
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.show.day import Day


@dataclass(frozen=True)
class Asked:
    """A plan, and the days of it that are printed, both included; all of them where left out.

    Sheets that concern the whole order, such as the list of its blocks, do not look at the days.
    ``apart`` are batches outside their cards.
    """

    plan: Plan
    first_asked: date | None = None
    last_asked: date | None = None
    thumbs: Thumbs | None = None
    apart: frozenset[int] = frozenset()

    @cached_property
    def diary(self) -> Diary:
        """The days of the plan, made once for all sheets."""
        return Diary(self.plan, self.thumbs, self.apart)

    @cached_property
    def span(self) -> tuple[date, date]:
        """First and last day to print.

        Raises
        ------
        BadInput : they lie outside the plan, or the wrong way round.
        """
        from blockrun.show.days import span_of

        return span_of(self.diary, self.first_asked, self.last_asked)

    @cached_property
    def days(self) -> tuple[Day, ...]:
        """Days to print, on which anything happens."""
        return tuple(self.diary.days(*self.span))

    @cached_property
    def standing(self) -> StandingFull:
        """Which moulds stand full."""
        return StandingFull(self.plan, self.thumbs)

    @cached_property
    def racks(self) -> Racks:
        """What lies on the racks."""
        return Racks(self.plan.site, self.plan.tables.casts)

    @cached_property
    def _full(self) -> dict[str, list[Full]]:
        return full_of(self.plan.tables)

    def full_at(self, names: Iterable[str], moment: datetime) -> int:
        """How many of some moulds or bases are full at a moment."""
        return sum(any(turn.since <= moment < turn.free for turn in self._full.get(name, ())) for name in names)

    @cached_property
    def weeks(self) -> dict[date, dict[date, Day]]:
        """Days of every week of which any is printed, by the Monday it begins with."""
        first, last = (day - timedelta(days=day.weekday()) for day in self.span)
        weeks: dict[date, dict[date, Day]] = {}
        for day in self.diary.days(first, last + timedelta(days=6)):
            monday = day.day - timedelta(days=day.day.weekday())
            weeks.setdefault(monday, {})[day.day] = day
        return weeks

    def together(self, day: Day) -> tuple[Day, ...]:
        """Days that share a page with a day: itself; of days without work in the yard all that follow one another.

        Days off on which somebody only comes by stand on the page of the day of work before them.
        """
        return next(days for days in self._pages if day in days)

    @cached_property
    def _pages(self) -> tuple[tuple[Day, ...], ...]:
        runs = [list(run) for _, run in groupby(self.days, key=lambda day: bool(day.jobs))]
        pages: list[tuple[Day, ...]] = []
        for run in runs:
            if run[0].jobs:
                pages += [(day,) for day in run]
                continue
            off = tuple(takewhile(lambda day: day.is_quiet and not day.people, run)) if pages else ()
            pages[-1:] = [(*page, *off) for page in pages[-1:]]
            pages += [tuple(rest)] if (rest := run[len(off) :]) else []
        return tuple(pages)

    def next_with_work(self, day: Day) -> Day | None:
        """The next day on which anything is done in the yard, or comes; None after the last."""
        return next((later for later in self._with_work if later.day > day.day), self._after_the_last)

    @cached_property
    def _with_work(self) -> tuple[Day, ...]:
        return tuple(day for day in self.days if day.has_work)

    @cached_property
    def _after_the_last(self) -> Day | None:
        """The first day with work after those to print."""
        later = self.diary.days(self.span[1] + timedelta(days=1), self.diary.last)
        return next((day for day in later if day.has_work), None)

    @property
    def units(self) -> str:
        """What the site prints in, ``SI`` or ``US``."""
        return self.plan.site.units
