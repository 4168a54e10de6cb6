"""Blocks that came out of their moulds too soon: told until they are stacked, for moving them may crack them.

So are those that may have: poured with others of which a thumb told, at the strip, that they were behind.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.errors import BlockrunError
from blockrun.planner.morning import StrippedEarly
from blockrun.yard.ready.courses import by_mark
from blockrun.yard.ready.doubts import behind, together

if TYPE_CHECKING:
    from blockrun.yard.now import Kind, Pour, Standing, State
    from blockrun.yard.ready.ripe import Ripe

LEAST_EARLY: Final = timedelta(hours=1)
"""A strip sooner by less is within what anybody knows of the air (our choice)."""

_HOUR: Final = timedelta(hours=1)
_Of = tuple["Kind", "Pour"]


def stripped_early(state: State, ripe: Ripe) -> Iterator[StrippedEarly]:
    """Turns stripped too soon of which blocks are on racks, or beside their mould, in the order of their pours.

    Of equal blocks of one pour from several moulds nobody knows which were stacked: the last to be stripped are still
    there.
    """
    left = _there(state)
    for turn in sorted(state.turns, key=lambda one: one.stripped or one.poured, reverse=True):
        blocks = _taken(turn, left) if turn.stripped is not None else Counter()
        if turn.stripped is None or not blocks:
            continue
        try:
            since = ripe.strip(turn)
        except BlockrunError:  # of a kind of mould that the site has no more nobody can tell
            continue
        if since is None or since - turn.stripped >= LEAST_EARLY:
            hours = None if since is None else (since - turn.stripped) // _HOUR
            yield StrippedEarly(turn.place, by_mark(blocks), turn.stripped, hours)
        elif beside := tuple(_behind_at_the_strip(turn, turn.stripped, state, ripe)):
            yield StrippedEarly(turn.place, by_mark(blocks), turn.stripped, 0, beside)


def _behind_at_the_strip(turn: Standing, stripped: datetime, state: State, ripe: Ripe) -> Iterator[tuple[str, str]]:
    """Places poured with a turn in which a thumb was behind by its strip; nothing where its own was firm."""
    if turn.thumbs and ripe.felt(turn).is_firm:
        return
    for other in state.turns:
        thumbs = [(at, shows) for at, shows in other.thumbs if at <= stripped]
        if thumbs and other is not turn and together(turn, other):
            try:
                yield from behind([(other, ripe.felt(replace(other, thumbs=thumbs)))])
            except BlockrunError:
                continue


def _there(state: State) -> Counter[_Of]:
    """Blocks out of their moulds and not stacked yet."""
    found: Counter[_Of] = Counter()
    for places in (state.out, state.racks):
        for pile in places.values():
            for kind, lot in pile.lots():
                found[kind, lot.pour] += lot.n_blocks
    return found


def _taken(turn: Standing, left: Counter[_Of]) -> Counter[Kind]:
    """Its blocks among those that are there; no other turn has them."""
    whole = Counter((one.kind, (one.batch, one.poured)) for one in turn.filled)
    for kind, lot in turn.lost.lots():
        whole[kind, lot.pour] -= lot.n_blocks
    blocks: Counter[Kind] = Counter()
    for of, count in whole.items():
        some = min(count, left[of])
        left[of] -= some
        blocks[of[0]] += some
    return +blocks
