"""Walls drawn each by itself that meet at a corner, joined so that their blocks are bonded through it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from blockrun.order.drawings.plane import CLOSE_MM, Line, Point, crossing, dot, unit
from blockrun.order.drawings.strips import Chain

_SQUARE = 0.02


def join(chains: Sequence[Chain], thickness: float) -> list[Chain]:
    """The same walls, those whose ends meet in one chain; one that comes back to its start is closed.

    Parameters
    ----------
    thickness : of the walls, mm; ends that meet are no further than that from where their centre lines cross.
    """
    waiting = sorted(chains, key=lambda chain: (chain.line, chain.label))
    settled: list[Chain] = []
    while waiting:
        chain = waiting.pop(0)
        found = next(((other, new) for other in settled if (new := _joined(other, chain, thickness))), None)
        if found is None:
            settled.append(chain)
        else:
            settled.remove(found[0])
            waiting.insert(0, found[1])
    return [_round(chain, thickness) for chain in settled]


def _joined(one: Chain, other: Chain, thickness: float) -> Chain | None:
    """Two chains as one, if an end of each meets the other."""
    if one.closed or other.closed:
        return None
    for here, there in itertools.product((one.line, one.line[::-1]), (other.line, other.line[::-1])):
        corner = _corner(here[-2:], there[:2], thickness)
        if corner:
            return Chain(f"{one.label}, {other.label}", (*here[:-1], corner, *there[1:]))
    return None


def _round(chain: Chain, thickness: float) -> Chain:
    """The same chain, closed if its two ends meet."""
    if chain.closed or len(chain.line) < 4:
        return chain
    corner = _corner(chain.line[-2:], chain.line[:2], thickness)
    return Chain(chain.label, (corner, *chain.line[1:-1]), closed=True) if corner else chain


def _corner(here: Line, there: Line, thickness: float) -> Point | None:
    """Where the end of one wall and the start of another make a corner, if they do."""
    one, other = unit(*here), unit(*there)
    corner = crossing(here[1], one, there[0], other)
    reach = (thickness / 2 if abs(dot(one, other)) < _SQUARE else thickness) + CLOSE_MM
    if corner and math.dist(corner, here[1]) <= reach and math.dist(corner, there[0]) <= reach:
        return corner
    return None
