"""From when to when each mould and each base is full: poured, not yet clean again."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from blockrun.planner.rows import Row, grouped, rows_of

if TYPE_CHECKING:
    from blockrun.planner.tables import PlanTables


class Full(NamedTuple):
    """A mould or a base in one turn: from its first pour, with the end of its last, until it may be poured again."""

    since: datetime
    poured: datetime
    free: datetime
    blocks: int


def full_of(tables: PlanTables) -> dict[str, list[Full]]:
    """Turns of each mould and each base by its name, in the order of the casts.

    With bases, a mould is its sides, which are free again once they are off; the base is, once it is clean.
    """
    cleans, started = cleans_of(tables), {row.batch: row.pour_from for row in rows_of(tables.batches)}
    full: dict[str, list[Full]] = defaultdict(list)
    for casts in casts_by_turn(tables).values():
        one, since, poured = casts[0], min(started[cast.batch] for cast in casts), max(cast.poured for cast in casts)
        clean = first_from(one.strip, cleans.get((one.mould, one.base), []))
        free = clean.end if clean else one.strip
        full[one.mould].append(Full(since, poured, one.sides_off if one.base else free, len(casts)))
        if one.base:
            full[one.base].append(Full(since, poured, free, len(casts)))
    return full


def casts_by_turn(tables: PlanTables) -> Mapping[tuple[str, int], list[Row]]:
    """Blocks by the mould and the number of the turn in it, in the order of the first of each."""
    return grouped(rows_of(tables.casts), lambda cast: (cast.mould, cast.turn))


def cleans_of(tables: PlanTables) -> Mapping[tuple[str, str], list[Row]]:
    """Cleanings of each mould and base, by start."""
    cleans = rows_of(tables.tasks[tables.tasks["task"] == "clean"])
    return grouped(sorted(cleans, key=lambda row: (row.start, row.end)), lambda row: (row.mould, row.base))


def first_from(strip: datetime, cleans: Sequence[Row]) -> Row | None:
    """The first cleaning that starts at a strip or after it; None where there is none."""
    at = bisect_left(cleans, strip, key=lambda row: row.start)
    return cleans[at] if at < len(cleans) else None
