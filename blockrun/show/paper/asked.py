"""What is asked to be printed: a plan, from which day to which, and all that several sheets are made from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.show.diary import Diary

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs import Thumbs
    from blockrun.show.day import Day


@dataclass(frozen=True)
class Asked:
    """A plan, and the days of it that are printed, both included; all of them where left out.

    Sheets that concern the whole order, such as the list of its blocks, do not look at the days.
    """

    plan: Plan
    first_asked: date | None = None
    last_asked: date | None = None
    thumbs: Thumbs | None = None

    @cached_property
    def diary(self) -> Diary:
        """The days of the plan, made once for all sheets."""
        return Diary(self.plan, self.thumbs)

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

    @property
    def units(self) -> str:
        """What the site prints in, ``SI`` or ``US``."""
        return self.plan.site.units
