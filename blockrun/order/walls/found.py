"""What is found in laying a run, for the notes and the pictures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from blockrun.order.walls.bond import EPS_MM, Gauge, overlap_at
from blockrun.order.walls.course import Placed
from blockrun.order.walls.headers import Bonded
from blockrun.order.walls.openings import Hole, Lintel
from blockrun.order.walls.part import Opening
from blockrun.order.walls.runs import Stretch

Place = tuple[int, float, float]
"""A course, where along the run in mm, and what was found there in mm."""


class Nearer(NamedTuple):
    """Openings a little off the bond: from where on each would be on it, and how many fewer blocks are shorter then."""

    places: Sequence[tuple[Opening, float]]
    fewer: int


@dataclass
class Found:
    """What was found in laying a run: holes, lintels, and places with short overlaps or short blocks.

    `n_parts` are the blocks shorter than whole, and how many there would be with the joint as written.
    """

    stretch: Stretch
    gauge: Gauge
    holes: Sequence[Hole]
    lintels: Sequence[Lintel]
    of_several: bool
    short_overlaps: list[Place] = field(default_factory=list)
    short_blocks: list[Place] = field(default_factory=list)
    piers: Sequence[Bonded] = ()
    n_wedges: int = 0
    n_parts: tuple[int, int] = (0, 0)
    nearer: Nearer | None = None

    @property
    def n_short(self) -> int:
        """Overlaps and blocks under the least."""
        return len(self.short_overlaps) + len(self.short_blocks)

    def said(self, sentence: str) -> str:
        """A sentence on the run, which of a straight wall needs no name."""
        return f"{self.stretch.name}: {sentence}" if self.of_several else sentence[0].upper() + sentence[1:]

    def called(self, opening: str) -> str:
        """An opening of the run, with the name of the run where there are several."""
        return f"{self.stretch.name}, {opening}" if self.of_several else opening

    def count(self, course: int, placed: Placed, below_mm: tuple[float, ...]) -> None:
        """Take note of a course: its short overlaps on the joints below, and its short blocks."""
        for joint in placed.joints if placed.rows else ():
            overlap, place = min((overlap_at(place, below_mm, self.gauge), place) for place in joint)
            if overlap < self.gauge.overlap_mm - EPS_MM:
                self.short_overlaps.append((course, place, overlap))
        for piece, row in placed.rows:
            for ends in row.blocks:
                if piece.shorter_mm(ends) < self.gauge.least_mm - EPS_MM:
                    self.short_blocks.append((course, ends[0], piece.shorter_mm(ends)))
