"""What a calendar says of cold: on which days, and on the eve of which, moulds, racks and the stack are covered."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.files.day_names import clock, day_name
from blockrun.show.calendar.entry import Entry, plain
from blockrun.show.care import care_said
from blockrun.show.chores import chores_now
from blockrun.show.covering import covered, covering
from blockrun.show.frost import freezes, frost_ahead
from blockrun.show.words import capital
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.site import Site


def cover_entry(day: Day, site: Site) -> Iterator[Entry]:
    """The entry of a day of frost, of its eve, or of one whose cold stops the pour, if there are blocks."""
    what = covered(day, site)
    if what and (why := _why(day, site)):
        yield Entry("cover", day.day, f"{why}: {what}", tuple(plain([line]) for line in _lines(day, site)))


def _why(day: Day, site: Site) -> str:
    if freezes(day.weather):
        return "Frost"
    if ahead := frost_ahead(day.day, site):
        return f"Frost on {day_name(ahead)}"
    return "Cold, no pour" if day.no_pour and day.weather.min_c < site.curing.least_air_c else ""


def _lines(day: Day, site: Site) -> Iterator[str]:
    if day.no_pour:
        yield capital(day.no_pour)
    elif told := covering(day, site):
        yield capital(told.why)
    if care := care_said(day, site):
        yield care
    for job in day.at("chore"):
        if (now := chores_now(job, site.weather)).left_out:
            yield f"{clock(job.start)} {listed(now.left_out)}, {now.why.lower()}"
