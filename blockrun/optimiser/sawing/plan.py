"""Slabs, the pieces sawn out of them, and what an answer holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Slab:
    """A slab as cast."""

    length: int
    height: int

    @property
    def area(self) -> int:
        """Length times height."""
        return self.length * self.height


@dataclass(frozen=True)
class Piece:
    """A block sawn out of a slab: its lower left corner, and its extents as it lies there, turned or not.

    ``item`` is its index among the sizes asked for.
    """

    item: int
    x: int
    y: int
    length: int
    height: int

    def moved(self, x: int, y: int) -> Piece:
        """The same, further along and further up."""
        return Piece(self.item, self.x + x, self.y + y, self.length, self.height)


@dataclass(frozen=True)
class SawPlan:
    """The pieces of one slab, from its left end on, each upright row from below."""

    pieces: tuple[Piece, ...]

    @classmethod
    def of(cls, pieces: Iterable[Piece]) -> SawPlan:
        """Pieces in any order."""
        return cls(tuple(sorted(pieces, key=lambda piece: (piece.x, piece.y))))

    def gives(self) -> dict[int, int]:
        """Pieces of each item."""
        return dict(sorted(Counter(piece.item for piece in self.pieces).items()))


@dataclass(frozen=True)
class Sawn:
    """Saw plans that together give what is wanted.

    Attributes
    ----------
    plans : index of the slab, its saw plan, and how many slabs are sawn so.
    cost : area of the slabs used.
    bound : no saw plans take less.
    proven : none take less than these.
    """

    plans: tuple[tuple[int, SawPlan, int], ...]
    cost: int
    bound: float
    proven: bool
