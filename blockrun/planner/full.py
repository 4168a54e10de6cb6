"""From when to when each mould and each base is full: poured, not yet clean again."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from blockrun.planner.moments import moments

if TYPE_CHECKING:
    from blockrun.planner.tables import PlanTables


class Full(NamedTuple):
    """A mould or a base in one turn: from its first pour, with the end of its last, until it may be poured again."""

    since: datetime
    poured: datetime
    free: datetime
    blocks: int


class _Cast(NamedTuple):
    mould: str
    turn: int
    base: str
    since: datetime
    poured: datetime
    sides_off: datetime
    strip: datetime


def full_of(tables: PlanTables) -> dict[str, list[Full]]:
    """Turns of each mould and each base by its name, in the order of the casts.

    With bases, a mould is its sides, which are free again once they are off; the base is, once it is clean.
    """
    cleaned, turns = _cleaned(tables), defaultdict[tuple[str, int], list[_Cast]](list)
    for cast in _casts(tables):
        turns[cast.mould, cast.turn].append(cast)
    full: dict[str, list[Full]] = defaultdict(list)
    for casts in turns.values():
        one, since, poured = casts[0], min(cast.since for cast in casts), max(cast.poured for cast in casts)
        clean = _first_from(one.strip, cleaned[one.mould, one.base])
        full[one.mould].append(Full(since, poured, one.sides_off if one.base else clean, len(casts)))
        if one.base:
            full[one.base].append(Full(since, poured, clean, len(casts)))
    return full


def _casts(tables: PlanTables) -> Iterator[_Cast]:
    casts, batches = tables.casts, tables.batches
    started = dict(zip(batches["batch"].tolist(), moments(batches["pour_from"]), strict=True))
    names = (casts[column].tolist() for column in ("mould", "turn", "base"))
    since = (started[batch] for batch in casts["batch"].tolist())
    times = (moments(casts[column]) for column in ("poured", "sides_off", "strip"))
    yield from map(_Cast, *names, since, *times)


def _cleaned(tables: PlanTables) -> dict[tuple[str, str], list[tuple[datetime, datetime]]]:
    """Start and end of each cleaning of a mould and base, by start."""
    found: dict[tuple[str, str], list[tuple[datetime, datetime]]] = defaultdict(list)
    rows = tables.tasks[tables.tasks["task"] == "clean"]
    names = rows["mould"].tolist(), rows["base"].tolist()
    for mould, base, start, end in zip(*names, moments(rows["start"]), moments(rows["end"]), strict=True):
        found[mould, base].append((start, end))
    for each in found.values():
        each.sort()
    return found


def _first_from(strip: datetime, cleaned: list[tuple[datetime, datetime]]) -> datetime:
    """The end of the first cleaning that starts at a strip or after it; the strip itself where there is none."""
    at = bisect_left(cleaned, (strip,))
    return cleaned[at][1] if at < len(cleaned) else strip
