"""How many people are away on a day, by all that was recorded of it: somebody who is named counts once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.yard.journal.events import PersonAway

_A_DAY = timedelta(days=1)


def n_away(away: Iterable[PersonAway], day: date) -> int:
    """People away on a day; where a number was told without names, it is of others."""
    there = [one for one in away if one.first <= day <= one.last]
    named = {name.casefold() for one in there for name in one.names}
    return len(named) + sum(one.people for one in there if not one.names)


def stretches_away(away: Sequence[PersonAway]) -> Iterator[tuple[date, date, int]]:
    """Days from one to another, both included, on which equally many are away, and how many that is."""
    edges = sorted({one.first for one in away} | {one.last + _A_DAY for one in away})
    found: list[tuple[date, date, int]] = []
    for first, next_first in pairwise(edges):
        people = n_away(away, first)
        if found and found[-1][1] + _A_DAY == first and found[-1][2] == people:
            first = found.pop()[0]
        if people:
            found.append((first, next_first - _A_DAY, people))
    yield from found
