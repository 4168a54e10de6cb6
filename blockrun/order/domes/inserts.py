"""What the moulds of a yard can be set to, and which of them a dome can use."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.order.domes.part import DomePart
from blockrun.site.moulds import MouldKind

SLACK_MM: Final = 0.5
"""Cavities are as long, high and thick as blocks to within this."""


@dataclass(frozen=True)
class Inserts:
    """What a mould can be set to.

    Parameters
    ----------
    cavity_mm : length, height and thickness.
    stop_ends : whether it casts shorter blocks too.
    bevels_deg, tapers_deg, beds_deg : leans of ends through the thickness, of ends up the face, and of beds.
    slab : whether what it casts is sawn into blocks of any size within it.
    """

    cavity_mm: tuple[float, float, float]
    stop_ends: bool = False
    bevels_deg: tuple[float, ...] = (0.0,)
    tapers_deg: tuple[float, ...] = (0.0,)
    beds_deg: tuple[float, ...] = (0.0,)
    slab: bool = False

    @property
    def casts_plain(self) -> bool:
        """Whether it casts blocks without any lean."""
        return all(0.0 in angles for angles in (self.bevels_deg, self.tapers_deg, self.beds_deg))


def inserts_of(kind: MouldKind) -> Inserts:
    """What the moulds of a kind can be set to; leans outward are of no use in a ring."""
    bevels, tapers, beds = (
        tuple(angle for angle in angles if angle >= 0)
        for angles in (kind.wedges_deg, kind.tapers_deg, kind.bed_wedges_deg)
    )
    return Inserts(kind.cavity, kind.stop_ends, bevels, tapers, beds, slab=kind.saw is not None)


def usable(dome: DomePart, moulds: Sequence[Inserts]) -> list[Inserts]:
    """The moulds whose cavity has the thickness of the dome and gives blocks of its course."""
    return [mould for mould in as_thick(dome, moulds) if beds_of(dome, mould)]


def as_thick(dome: DomePart, moulds: Sequence[Inserts]) -> list[Inserts]:
    """The moulds whose cavity has the thickness of the dome."""
    return [mould for mould in moulds if abs(mould.cavity_mm[2] - dome.thickness_mm) < SLACK_MM]


def holding(dome: DomePart, moulds: Sequence[Inserts], side_mm: float) -> list[Inserts]:
    """The moulds that cast a plain block of the dome's thickness at least so long and high: if any, of its course.

    None where the rest of the dome is for moulds that are yet to be made: one for its course will serve.
    """
    plain = [mould for mould in as_thick(dome, moulds) if mould.casts_plain]
    large = [mould for mould in plain if min(mould.cavity_mm[:2]) >= side_mm - SLACK_MM]
    return usable(dome, large) or (large if usable(dome, moulds) else [])


def beds_of(dome: DomePart, mould: Inserts) -> list[float]:
    """Bed leans with which the cavity gives blocks of the dome's course, inside."""
    return [
        bed
        for bed in mould.beds_deg
        if abs(mould.cavity_mm[1] - 2 * dome.thickness_mm * math.tan(math.radians(bed)) - dome.course_mm) < SLACK_MM
    ]
