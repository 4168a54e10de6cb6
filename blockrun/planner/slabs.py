"""What may be sawn from what: the slabs of a site, and the blocks of an order that these give."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.mix import batch_sizes
from blockrun.order.castable import castable
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.wanted import FormatKey, by_format

if TYPE_CHECKING:
    from blockrun.order import Order, OrderLine
    from blockrun.site import MouldKind, Site, Stack


@dataclass(frozen=True)
class Sawable:
    """Blocks of one mix and thickness that slabs give.

    ``kinds`` are the slabs, ``most_blocks`` what a turn of each may give at the most; ``blocks`` how many are wanted,
    spares included, and ``sawn_only`` those that no other mould casts; ``stack`` where they stand off the rack.
    """

    kinds: tuple[MouldKind, ...]
    most_blocks: tuple[int, ...]
    blocks: Mapping[FormatKey, int]
    sawn_only: frozenset[FormatKey]
    stack: Stack | None

    @cached_property
    def keys(self) -> tuple[FormatKey, ...]:
        """The blocks in their order."""
        return tuple(self.blocks)

    @property
    def mix(self) -> str:
        """What they are cast of."""
        return self.keys[0][0]

    @property
    def thickness_mm(self) -> float:
        """How thick they and the slabs are."""
        return self.keys[0][3]


def sawable(site: Site, order: Order, lines: Sequence[OrderLine]) -> Iterator[Sawable]:
    """Blocks that slabs give, by mix and thickness."""
    formats = by_format(lines)
    for mix, thickness in sorted({(key[0], key[3]) for key in formats}):
        kinds = [kind for kind in site.moulds if kind.saw and pourable(site, order, kind, mix)]
        of_use = {
            kind: most
            for kind in kinds
            if (most := most_blocks(site, kind))
            and any(key[3] == thickness and key[0] == mix and castable(kind, of[0]) for key, of in formats.items())
        }
        blocks = {
            key: sum(line.count for line in of_key)
            for key, of_key in formats.items()
            if (key[0], key[3]) == (mix, thickness) and any(castable(kind, of_key[0]) for kind in of_use)
        }
        if blocks:
            others = [kind for kind in site.moulds if not kind.saw]
            alone = (key for key in blocks if not any(castable(kind, formats[key][0]) for kind in others))
            yield Sawable(tuple(of_use), tuple(of_use.values()), blocks, frozenset(alone), site.stack)


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
    return max(0, int(min(by_time + 1e-6, places, 1_000_000)))
