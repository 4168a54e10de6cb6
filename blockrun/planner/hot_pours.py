"""What is said of batches that set, in the heat of their hour, before they are poured."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from blockrun.cure.hazards import HOT_C
from blockrun.cure.pour_life import OUR_CHOICE, pour_life_of
from blockrun.files.day_names import moment_name
from blockrun.planner.rows import moments, rows_of
from blockrun.units import show, show_degrees, show_time

if TYPE_CHECKING:
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site


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
    most = show(_most_air_c(site, hot), "temperature", site.units)
    yield (
        f"HEAT: {len(hot)} of {len(starts)} {'batches' if starts[1:] else 'batch'} cannot be poured in time, "
        f"{named}: its foam goes in on {moment_name(at)}; "
        f"at {air} a mix keeps {keeps} ({OUR_CHOICE}), and foam and pour take {takes}. Begin earlier in the "
        "day (hours), end before the heat (last_foam), pour faster or smaller batches (a shorter pour_time), or "
        f"pour nothing on such days (most_air: {most}). Shade and cold water help where they keep the slurry cooler "
        "than the air: check it with blockrun check ... --temperature."
    )


def _most_air_c(site: Site, hot: Sequence[HotPour]) -> float:
    """The hottest air, in whole degrees, in which the slowest of some batches is still poured in time."""
    takes_min, hottest_c = max(one.takes_min for one in hot), max(one.hot_c for one in hot)
    degrees = map(float, range(math.floor(hottest_c), math.floor(HOT_C), -1))
    in_time = (celsius for celsius in degrees if pour_life_of(site, celsius).leaves_time_to_pour(takes_min))
    return next(in_time, HOT_C)
