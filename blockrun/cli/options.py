"""What may be typed after a command: the kinds of places and options, and the reading of those that several share."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from blockrun.errors import BadInput
from blockrun.files.day_names import short_day_name

if TYPE_CHECKING:
    from blockrun.files.days import Span
    from blockrun.planner.plan import Plan
    from blockrun.site import Site

# what stands in each place is said in the words of the command; a list of places would show types, as "<path>"
SiteFile = Annotated[Path, typer.Argument(metavar="SITE", hidden=True)]
OrderFile = Annotated[Path, typer.Argument(metavar="ORDER", hidden=True)]
PlanDirectory = Annotated[Path, typer.Argument(metavar="DIR", hidden=True)]

FirstDay = Annotated[str | None, typer.Option("--from", metavar="DAY", help="First day, such as 2027-04-06 or 6apr.")]

PLAN_SECONDS: Final = 60
"""Time to make a plan in, unless told."""


class Units(StrEnum):
    """Systems of units results print in."""

    SI = "SI"
    US = "US"


@dataclass(frozen=True)
class Days:
    """The days that ``--from`` and ``--to`` name, as people say them; a year left out is that of the plan."""

    first: str | None
    last: str | None
    today: date

    def of_plan(self, plan: Plan) -> tuple[date | None, date | None]:
        """Both days, of a plan that is there; None for one left out."""
        from blockrun.files.days import Span

        return self._within(Span(plan.site.calendar.start, plan.tables.casts["ready"].max().date()))

    def of_site(self, site: Site) -> tuple[date | None, date | None]:
        """Both days, of the year that begins with a calendar; None for one left out."""
        from blockrun.files.days import Span

        return self._within(Span.year_from(site.calendar.start))

    def _within(self, span: Span) -> tuple[date | None, date | None]:
        return self._day(self.first, "--from", span), self._day(self.last, "--to", span)

    def _day(self, written: str | None, option: str, span: Span) -> date | None:
        from blockrun.files.days import day_meant

        if written is None:
            return None
        try:
            meant = day_meant(written, self.today, span)
        except BadInput as fault:
            raise BadInput(f"{option} {fault.what}", fault.todo, name=option, value=written) from None
        if meant is None:
            todo = f'Write the day such as {span.first} or "{short_day_name(span.first)}".'
            raise BadInput(f"{option} {written} is not a day", todo, name=option, value=written)
        return meant


def time_allowed(written: str | None) -> float | None:
    """Read the seconds that ``--seconds`` allows, if it is there."""
    if written is None:
        return None
    todo = "Write how many seconds it may take, 1 or more, for example --seconds 300."
    try:
        seconds = float(written)
    except ValueError:
        raise BadInput(f"--seconds {written} is not a number", todo, name="--seconds", value=written) from None
    if not 1 <= seconds < math.inf:
        raise BadInput(f"--seconds {written} cannot be kept", todo, name="--seconds", value=written, limit=1)
    return seconds
