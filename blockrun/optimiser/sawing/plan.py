"""Slabs, the pieces sawn out of them, and what an answer holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from blockrun.optimiser.problem import Stack


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


@dataclass(frozen=True)
class ToSaw:
    """Pieces of one thickness that slabs may give.

    Attributes
    ----------
    slabs, kerfs : kinds of slab, and the width of a cut in each.
    most : pieces that a slab of each kind may give at the most.
    sizes, demand : length and height of each item, and pieces wanted of it.
    sawn_only : items that nothing but slabs gives.
    stack : where the pieces stand off the rack, if they do.
    """

    slabs: tuple[Slab, ...]
    kerfs: tuple[int, ...]
    most: tuple[int, ...]
    sizes: tuple[tuple[int, int], ...]
    demand: tuple[int, ...]
    sawn_only: frozenset[int]
    stack: Stack | None

    @property
    def offcuts(self) -> tuple[int, ...]:
        """Items that something else gives too."""
        return tuple(item for item in range(len(self.sizes)) if item not in self.sawn_only)

    def kept(self, kind: int, plan: SawPlan) -> SawPlan:
        """The first pieces of a plan of a slab, without those that there is no room or time for."""
        items = [piece.item for piece in plan.pieces]
        count = min(len(items), self.most[kind])
        while self.stack is not None and self.stack.columns(Counter(items[:count]).values()) > self.stack.places:
            count -= 1
        return SawPlan(plan.pieces[:count])


@dataclass(frozen=True)
class Settled:
    """Saw plans for what is to be sawn.

    Attributes
    ----------
    needed : for what only slabs give.
    choice : kind of slab and saw plan, of those that may stand in for other moulds.
    """

    needed: Sawn
    choice: tuple[tuple[int, SawPlan], ...]
