"""In which order the pieces of a ring are laid: round it anti-clockwise from where it is begun, doors between them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import Final

from blockrun.order.domes import DomeLayout, DomePart, Ring
from blockrun.order.domes.openings import meets
from blockrun.order.laid import Point
from blockrun.show.paper.dome_pieces import DomePiece

_TURN_DEG: Final = 360.0


def names_of_blocks(pieces: Sequence[DomePiece]) -> Mapping[int, str]:
    """The piece that each block of a layout is, by its number there."""
    return {block: piece.name for piece in pieces for block in piece.blocks}


def round_the_ring(
    part: DomePart, layout: DomeLayout, ring: Ring, names: Mapping[int, str]
) -> list[tuple[int, str, bool]]:
    """What comes one after the other as a ring is laid.

    Parameters
    ----------
    names : of all blocks, from :func:`names_of_blocks`.

    Returns
    -------
    Runs of equal pieces: how many, their name, and whether it is an opening, of which there is one.
    """
    here = [(number, spot) for number, spot in enumerate(layout.spots) if spot.course.number == ring.course]
    placed = [(_turn_deg(spot.middle_rad, ring), names[number], False) for number, spot in here]
    outlines = [layout.blocks[number].corners for number, _ in here]
    placed += [
        (_turn_deg(math.radians(opening.at_deg), ring), opening.name, True)
        for opening in part.openings
        if here and meets(here[0][1].course, opening) and not _closed(math.radians(opening.at_deg), outlines)
    ]
    runs = groupby(sorted(placed), key=lambda one: one[1:])
    return [(sum(1 for _ in same), name, is_opening) for (name, is_opening), same in runs]


def _turn_deg(azimuth_rad: float, ring: Ring) -> float:
    """How far on from where the ring is begun."""
    return (math.degrees(azimuth_rad) - ring.begin_deg) % _TURN_DEG


def _closed(azimuth_rad: float, outlines: Iterable[Sequence[Point]]) -> bool:
    """Whether one of some blocks, as laid flat, stands over or under the middle of an opening."""
    for outline in outlines:
        turns = [_turned(math.atan2(y, x) - azimuth_rad) for x, y in outline]
        if min(turns) < 0 < max(turns) and max(turns) - min(turns) < math.pi:
            return True
    return False


def _turned(angle_rad: float) -> float:
    """The same angle, from -pi to pi."""
    return (angle_rad + math.pi) % (2 * math.pi) - math.pi
