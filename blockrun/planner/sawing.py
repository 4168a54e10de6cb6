"""How slabs are sawn into the blocks that are wanted: settled before the days are, for the least slab cast.

Blocks that only slabs give are shared out over slabs so that as little slab as can be is cast; what is left over
gives blocks that other moulds cast too. For each block there is besides a slab with as many of it as go in, so
that the plan may choose.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.planner.plan import Stop, never
from blockrun.planner.slabs import sawable

if TYPE_CHECKING:
    from blockrun.order import Order, OrderLine
    from blockrun.planner.wanted import FormatKey
    from blockrun.site import MouldKind, Site


@dataclass(frozen=True)
class SawnBlock:
    """A block in a slab: its lower left corner, and its extents as it lies there, in mm."""

    block: FormatKey
    from_left_mm: float
    from_bottom_mm: float
    length_mm: float
    height_mm: float


@dataclass(frozen=True)
class SawnSlab:
    """A slab of one mix and the blocks sawn out of it, from its left end on."""

    kind: MouldKind
    mix: str
    blocks: tuple[SawnBlock, ...]

    @property
    def gives(self) -> dict[FormatKey, int]:
        """Blocks of each format."""
        found: dict[FormatKey, int] = {}
        for sawn in self.blocks:
            found[sawn.block] = found.get(sawn.block, 0) + 1
        return found


@dataclass(frozen=True)
class SlabsNeeded:
    """Slabs for the blocks of a mix and a thickness that no other mould casts.

    ``slabs`` are saw plans and how many of each; ``cost_l`` the volume of these slabs, ``bound_l`` the least that any
    saw plans take.
    """

    mix: str
    thickness_mm: float
    slabs: tuple[tuple[SawnSlab, int], ...]
    cost_l: float
    bound_l: float
    proven: bool


@dataclass(frozen=True)
class Sawing:
    """``needed`` for what only slabs give; ``slabs`` are all saw plans that a plan may use, these included."""

    needed: tuple[SlabsNeeded, ...]
    slabs: tuple[SawnSlab, ...]


NOTHING_SAWN: Final = Sawing((), ())


def settle_sawing(site: Site, order: Order, lines: Sequence[OrderLine], stop: Stop = never) -> Sawing:
    """Saw plans for an order on a site."""
    found = tuple(sawable(site, order, lines))
    if not found:  # nor anything that solves
        return NOTHING_SAWN
    from blockrun.optimiser.sawing.settle import settle
    from blockrun.planner.saw_plans import sawing_of, to_saw

    return sawing_of(found, settle([to_saw(of) for of in found], 0, stop=stop))
