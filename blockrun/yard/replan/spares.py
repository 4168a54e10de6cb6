"""Spares to be had in the end: those that the order asks for are there to be used up, and what breaks is seen."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING, Final

from blockrun.yard.losses import lost_of

if TYPE_CHECKING:
    from collections.abc import Container, Iterable
    from decimal import Decimal

    from blockrun.order import OrderLine
    from blockrun.planner.begun.facts import Some
    from blockrun.planner.progress import Seen
    from blockrun.yard.now import Kind, State

ASKED_WEIGHS: Final = 200
"""The share that the order asks for counts like so many blocks of which it was lost: a few blocks that go bad together
say little, hundreds say much (our choice)."""

_ROUNDING: Final = 1e-9


def share_expected(lost: Seen | None, asked: float) -> float:
    """The share of blocks that is to be expected to be lost, at least the one that the order asks for.

    Parameters
    ----------
    lost : what was seen so far; None where nothing was cast.
    """
    held, of = (lost.held, lost.of) if lost else (0, 0)
    return max(asked, (held + asked * ASKED_WEIGHS) / (of + ASKED_WEIGHS))


def spares_to_have(
    spares: Decimal, lines: Iterable[OrderLine], state: State, left: Container[Kind] = ()
) -> tuple[Some, ...]:
    """Spares of each mark and mix that are to be had in the end, beyond all that is ordered.

    Those asked for less those that were lost, for that is what they are there for; and no fewer than are to be expected
    to be lost of what is not out of its mould yet, by what the order asks for and by what was seen so far.

    Parameters
    ----------
    spares, lines : the share and the blocks that the order asks for.
    state : where every block is.
    left : marks and mixes kept in the order for the blocks there are alone: none is to be cast, and so no spare.
    """
    share = share_expected(lost_of(state, float(spares)), float(spares))
    ordered: Counter[Kind] = Counter()
    for line in lines:
        ordered[line.mark, line.mix] += line.count
    safe, lost = _safe(state), _lost(state)
    told = []
    for kind, count in sorted(ordered.items()):
        if kind in left:
            continue
        asked = math.ceil(spares * count) - lost[kind]
        at_risk = max(0, count - safe[kind])
        more = max(asked, math.ceil(share * at_risk - _ROUNDING))
        if more > 0:
            told.append((*kind, more))
    return tuple(told)


def _safe(state: State) -> Counter[Kind]:
    """Good blocks that are out of their moulds."""
    found: Counter[Kind] = Counter()
    for places in (state.out, state.racks, state.stacks, state.laid):
        for pile in places.values():
            found.update(pile.counts)
    return found


def _lost(state: State) -> Counter[Kind]:
    found: Counter[Kind] = Counter()
    for pile in (state.broken, state.rejected, state.missing):
        found.update(pile.counts)
    return found
