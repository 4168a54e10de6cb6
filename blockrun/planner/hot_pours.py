"""What is said of batches that set, in the heat of their hour, before they are poured."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final

from blockrun.cure.pour_life import OUR_CHOICE, pour_life_of
from blockrun.files.day_names import moment_name
from blockrun.planner.rows import moments, rows_of
from blockrun.units import show_degrees, show_time

if TYPE_CHECKING:
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site


TO_POUR_IN_TIME: Final = (
    "Begin earlier in the day (hours), pour faster (pour_time), or keep the slurry cool by shade and cold water and "
    "write up to which air the pour life then holds (pour_life_up_to)"
)
"""What to do where heat leaves no time to pour."""


@dataclass(frozen=True)
class HotPour:
    """A batch that keeps less long than its foam and its pour take."""

    batch: int
    start: datetime
    foam_at: datetime
    takes_min: float
    keeps_min: float
    hot_c: float


def hot_pours(site: Site, batches: Iterable[Any]) -> tuple[HotPour, ...]:
    """Batches that heat leaves no time to pour, of rows of their table with moments, in the order given."""
    found = []
    for row in batches:
        life = pour_life_of(site, foam_at=row.foam_at)
        takes_min = (row.pour_to - row.foam_at).total_seconds() / 60
        if life.hot_c is not None and not life.leaves_time_to_pour(takes_min):
            found.append(HotPour(int(row.batch), row.start, row.foam_at, takes_min, life.minutes, life.hot_c))
    return tuple(found)


def hot_pours_said(site: Site, tables: PlanTables, since: datetime | None = None) -> Iterator[str]:
    """How many batches cannot be poured in time, the first of them, and what to do; nothing where all can.

    Parameters
    ----------
    since : what began before it is left out, for it happened: when a plan was made anew.
    """
    starts = [start for start in moments(tables.batches["start"]) if since is None or start >= since]
    hot = [one for one in hot_pours(site, rows_of(tables.batches)) if since is None or one.start >= since]
    if not hot:
        return
    first = min(hot, key=lambda one: one.start)
    named, at = f"batch {first.batch}{' is the first' if hot[1:] else ''}", first.foam_at
    air = show_degrees(first.hot_c, site.units)
    keeps, takes = (show_time(minutes) for minutes in (first.keeps_min, first.takes_min))
    yield (
        f"HEAT: {len(hot)} of {len(starts)} {'batches' if starts[1:] else 'batch'} cannot be poured in time, "
        f"{named}: its foam goes in on {moment_name(at)}; "
        f"at {air} a mix keeps {keeps} ({OUR_CHOICE}), and foam and pour take {takes}. It is planned all the same, for "
        f"no working hour of a year is cool enough for any batch of its mix. {TO_POUR_IN_TIME}. Check a batch with "
        "blockrun check ... --temperature."
    )
