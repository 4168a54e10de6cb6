"""How slabs are sawn into the blocks that are wanted: settled before the days are, for the least slab cast.

Blocks that only slabs give are shared out over slabs so that as little slab as can be is cast; what is left over
gives blocks that other moulds cast too. For each block there is besides a slab with as many of it as go in, so
that the plan may choose.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.mix import batch_sizes
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing import Piece, Sawn, SawPlan, Slab, best_plan, saw
from blockrun.order.castable import castable
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.wanted import FormatKey, by_format

if TYPE_CHECKING:
    from blockrun.order import Order, OrderLine
    from blockrun.site import MouldKind, Site

_TENTHS = 10
_SPECK = 0.1
"""Tenths of a tenth: sides may differ by so much in a mould, too."""


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


def settle_sawing(site: Site, order: Order, lines: Sequence[OrderLine], effort: Effort) -> Sawing:
    """Saw plans for an order on a site.

    Parameters
    ----------
    lines : ordered blocks and spares.
    effort : for each mix and thickness.
    """
    needed: list[SlabsNeeded] = []
    slabs: dict[SawnSlab, None] = {}
    for group in _groups(site, order, lines):
        of_group = group.needed(effort)
        if of_group is not None:
            needed.append(of_group)
            slabs |= dict.fromkeys(slab for slab, _ in of_group.slabs)
        slabs |= dict.fromkeys(group.each())
    return Sawing(tuple(needed), tuple(slab for slab in slabs if slab.blocks))


@dataclass(frozen=True)
class _Group:
    """Blocks of one mix and thickness, the slabs they can be sawn from, and which of them only these give."""

    kinds: tuple[MouldKind, ...]
    most_blocks: Mapping[str, int]
    blocks: Mapping[FormatKey, int]
    sawn_only: frozenset[FormatKey]

    def needed(self, effort: Effort) -> SlabsNeeded | None:
        """Slabs for what only these give."""
        if not self.sawn_only:
            return None
        keys = list(self.blocks)
        offcuts = [item for item, key in enumerate(keys) if key not in self.sawn_only]
        demand = list(self.blocks.values())
        sawn = saw(self._slabs, self._kerfs, self._sizes, demand, effort, offcuts=offcuts)
        return self._told(sawn, keys)

    def _told(self, sawn: Sawn, keys: Sequence[FormatKey]) -> SlabsNeeded:
        mix, *_, thickness = keys[0][:4]
        litres = thickness / (_TENTHS * _TENTHS * 1e6)
        slabs = ((self._slab(self.kinds[kind], plan), count) for kind, plan, count in sawn.plans)
        return SlabsNeeded(mix, thickness, tuple(slabs), sawn.cost * litres, sawn.bound * litres, sawn.proven)

    def each(self) -> Iterator[SawnSlab]:
        """For each slab and block, as many of it as go in, alone and with others in what is left over."""
        sizes = self._sizes
        for kind, slab, kerf in zip(self.kinds, self._slabs, self._kerfs, strict=True):
            for item in range(len(sizes)):
                for beside in (0.0, _BESIDE):
                    worth = [
                        length * height * (1.0 if i == item else beside) for i, (length, height) in enumerate(sizes)
                    ]
                    yield self._slab(kind, best_plan(slab, kerf, sizes, worth))

    def _slab(self, kind: MouldKind, plan: SawPlan) -> SawnSlab:
        """The plan in mm, without blocks that nobody wants and those there is no room or time for."""
        keys, left = list(self.blocks), list(self.blocks.values())
        kept: list[SawnBlock] = []
        for piece in plan.pieces:
            if left[piece.item] and len(kept) < self.most_blocks[kind.kind]:
                left[piece.item] -= 1
                kept.append(_in_mm(piece, keys[piece.item]))
        return SawnSlab(kind, keys[0][0], tuple(kept))

    @property
    def _slabs(self) -> list[Slab]:
        return [Slab(_down(kind.length_mm), _down(kind.height_mm)) for kind in self.kinds]

    @property
    def _kerfs(self) -> list[int]:
        return [_up(kind.saw.kerf_mm) for kind in self.kinds if kind.saw]

    @property
    def _sizes(self) -> list[tuple[int, int]]:
        return [(_up(length), _up(height)) for _, length, height, *_ in self.blocks]


_BESIDE = 0.01
"""Worth of other blocks beside the one a slab is sawn for: none of it is given up for them."""


def _groups(site: Site, order: Order, lines: Sequence[OrderLine]) -> Iterator[_Group]:
    formats = by_format(lines)
    for mix, thickness in sorted({(key[0], key[3]) for key in formats}):
        kinds = tuple(kind for kind in site.moulds if kind.saw and pourable(site, order, kind, mix))
        blocks = {
            key: sum(line.count for line in of_key)
            for key, of_key in formats.items()
            if (key[0], key[3]) == (mix, thickness) and any(castable(kind, of_key[0]) for kind in kinds)
        }
        of_use = tuple(kind for kind in kinds if any(castable(kind, formats[key][0]) for key in blocks))
        if blocks:
            others = [kind for kind in site.moulds if not kind.saw]
            alone = (key for key in blocks if not any(castable(kind, formats[key][0]) for kind in others))
            yield _Group(of_use, {kind.kind: most_blocks(site, kind) for kind in of_use}, blocks, frozenset(alone))


def slab_l(site: Site, kind: MouldKind) -> float:
    """Mix that a slab takes, overfill included, in litres."""
    return math.prod(kind.cavity) / 1e6 * (1 + site.overfill)


def pourable(site: Site, order: Order, kind: MouldKind, mix: str) -> bool:
    """Whether some batch of a mix fills a slab."""
    made = mix_proportions(site, order, mix)[mix]
    rooms = (size.room_l for mixer in site.mixers for size in batch_sizes(site, mixer, made))
    return slab_l(site, kind) <= max(rooms, default=0.0) + 1e-6


def most_blocks(site: Site, kind: MouldKind) -> int:
    """Blocks of one turn that find places on the racks and are stripped, sawn and moved in one part of a day."""
    longest = max(end - start for start, end in site.calendar.windows)
    by_time = (longest - kind.strip_and_saw_min) / site.move_time_min if site.move_time_min else math.inf
    places = sum(rack.places for rack in site.racks) if site.curing.rack_for_min else math.inf
    return int(min(by_time + 1e-6, places, 1_000_000))


def _in_mm(piece: Piece, block: FormatKey) -> SawnBlock:
    turned = piece.length != _up(block[1])
    length, height = (block[2], block[1]) if turned else (block[1], block[2])
    return SawnBlock(block, piece.x / _TENTHS, piece.y / _TENTHS, length, height)


def _up(mm: float) -> int:
    return math.ceil(mm * _TENTHS - _SPECK)


def _down(mm: float) -> int:
    return math.floor(mm * _TENTHS + _SPECK)
