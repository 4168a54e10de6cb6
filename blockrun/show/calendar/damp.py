"""What a calendar says of days on which nothing is done but to keep blocks damp: somebody must come for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.show.calendar.entry import Entry, plain
from blockrun.show.care import COME_BY, care_said, comes_for_it
from blockrun.show.hazards import hazards_of
from blockrun.show.words import capital
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.site import Site


def damp_entry(day: Day, site: Site) -> Iterator[Entry]:
    """The entry of a day on which somebody comes for nothing else."""
    if comes_for_it(day) and (care := care_said(day, site)):
        blocks = counted(day.overnight.curing, "block")
        lines = tuple(plain([line]) for line in (care, *hazards_of(day, site)))
        yield Entry("damp", day.day, f"{capital(COME_BY)}: keep {blocks} damp", lines)
