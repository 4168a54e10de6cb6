"""Spares to be had in the end: those that the order asks for are there to be used up, and what breaks is seen."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from blockrun.order import OrderLine
    from blockrun.planner.begun.facts import Some
    from blockrun.yard.now import Kind, State

ASKED_WEIGHS: Final = 200
"""The share that the order asks for counts like so many blocks of which it was lost: a few blocks that go bad together
say little, hundreds say much (our choice)."""

_ROUNDING: Final = 1e-9


@dataclass(frozen=True)
class Losses:
    """Blocks lost so far.

    Attributes
    ----------
    cast : blocks. Those that still stand in moulds are among them: what is thrown out is out at once, and what is good
        a day later, so that of blocks out of their moulds too many would be lost.
    lost : of them: broken, rejected, and missing since a count.
    """

    cast: int
    lost: int

    def share(self, asked: float) -> float:
        """The share to reckon with, at least the one that the order asks for."""
        return max(asked, (self.lost + asked * ASKED_WEIGHS) / (self.cast + ASKED_WEIGHS))


def losses_of(state: State) -> Losses:
    """What was lost of all that was cast."""
    lost = sum(map(len, (state.broken, state.rejected, state.missing)))
    return Losses(state.cast.total(), lost)


def spares_to_have(spares: Decimal, lines: Iterable[OrderLine], state: State) -> tuple[Some, ...]:
    """Spares of each mark and mix that are to be had in the end, beyond all that is ordered.

    Those asked for less those that were lost, for that is what they are there for; and no fewer than are to be expected
    to be lost of what is not out of its mould yet, by what the order asks for and by what was seen so far.

    Parameters
    ----------
    spares, lines : the share and the blocks that the order asks for.
    state : where every block is.
    """
    share = losses_of(state).share(float(spares))
    ordered: Counter[Kind] = Counter()
    for line in lines:
        ordered[line.mark, line.mix] += line.count
    safe, lost = _safe(state), _lost(state)
    told = []
    for kind, count in sorted(ordered.items()):
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
