"""Blocks that nobody will lay, of all that were cast: the one count of them, for status, replan and learn.

A batch that is thrown away is out of its moulds within the hour, a good one after a day: of blocks out of moulds alone
the first flat batch would be all. So those that still stand are among those cast, and good until they are stripped.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from blockrun.planner.progress import Seen

if TYPE_CHECKING:
    from blockrun.yard.now import Pile, Pour, State


def lost_of(state: State, assumed: float) -> Seen | None:
    """Blocks that broke, were rejected or are missing since a count, pour by pour; None where nothing was cast.

    Parameters
    ----------
    assumed : share that was reckoned with.
    """
    return of_pours(by_pour([state.broken, state.rejected, state.missing]), cast_of(state), assumed)


def cast_of(state: State) -> Counter[Pour]:
    """How many blocks each pour cast that filled a mould."""
    return Counter((one.batch, one.poured) for turn in state.turns for one in turn.filled)


def by_pour(piles: Iterable[Pile]) -> Counter[Pour]:
    """How many blocks of each pour are in some piles."""
    found: Counter[Pour] = Counter()
    for pile in piles:
        for _, lot in pile.lots():
            found[lot.pour] += lot.n_blocks
    return found


def of_pours(bad: Mapping[Pour, int], cast: Mapping[Pour, int], assumed: float) -> Seen | None:
    """Bad blocks of those cast, pour by pour; what a count found of no pour is of neither."""
    groups = tuple((min(bad.get(pour, 0), count), count) for pour, count in cast.items())
    return Seen(groups, assumed) if groups else None
