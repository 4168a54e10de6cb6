"""What is still to be cast, soonest needed first, and what moulds can cast of it."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable
from datetime import date
from itertools import count, repeat
from typing import NamedTuple

from blockrun.order import Order, OrderLine
from blockrun.order.castable import castable
from blockrun.site import MouldKind, Site
from tests.bench.rule.things import Size, lines_of, size_of, volume_l


class Want(NamedTuple):
    """One block wanted; the smaller the sooner."""

    needed: date
    place: int


class Wants:
    """Blocks wanted, by size."""

    def __init__(self, site: Site, order: Order, *, biggest_first: bool) -> None:
        lines, places = lines_of(site, order), count()
        self.biggest_first = biggest_first
        self.of: dict[Size, deque[Want]] = {}
        for line in lines:
            queue = self.of.setdefault(size_of(line), deque())
            queue.extend(Want(line.needed or date.max, next(places)) for _ in repeat(None, line.count))
        self._casts = {kind.kind: _casts(kind, lines) for kind in site.moulds}
        self._sawn_only = {size for size in self.of if not any(self._gang(kind, size) for kind in site.moulds)}

    def __bool__(self) -> bool:
        """Whether anything is left."""
        return any(self.of.values())

    def _gang(self, kind: MouldKind, size: Size) -> bool:
        return not kind.saw and size in self._casts[kind.kind]

    def taken(self, kind: MouldKind, most: int) -> list[tuple[Size, Want]]:
        """Take what a mould is filled with: what is needed soonest that it can cast, so many blocks at the most."""
        if kind.saw:
            return self._sawn(kind, most)
        found: list[tuple[Size, Want]] = []
        while len(found) < most:
            left = [size for size in self._casts[kind.kind] if self.of[size]]
            if not left:
                break
            size = min(left, key=self._rank)
            found.append((size, self.of[size].popleft()))
        return found

    def _rank(self, size: Size) -> tuple[date, float, int]:
        soonest = self.of[size][0]
        return (soonest.needed, -volume_l(size) if self.biggest_first else 0.0, soonest.place)

    def _sawn(self, kind: MouldKind, most: int) -> list[tuple[Size, Want]]:
        """A slab gives blocks of one size: such as only slabs give first, others only where the slab is filled."""
        left = {size: min(most, in_slab(kind, size)) for size in self._casts[kind.kind] if self.of[size]}
        of_use = {n: s for n, s in left.items() if n in self._sawn_only or len(self.of[n]) >= s}
        if not of_use:
            return []
        size = min(of_use, key=lambda size: (size not in self._sawn_only, self._rank(size)))
        return [(size, self.of[size].popleft()) for _ in range(min(of_use[size], len(self.of[size])))]

    def put_back(self, taken: Iterable[tuple[Size, Want]]) -> None:
        """What could not be poured is wanted again."""
        for size, want in sorted(taken, reverse=True):
            self.of[size].appendleft(want)


def _casts(kind: MouldKind, lines: Iterable[OrderLine]) -> list[Size]:
    return list(dict.fromkeys(size_of(line) for line in lines if castable(kind, line)))


def grid(kind: MouldKind, size: Size) -> tuple[int, int, float, float]:
    """How blocks of one size lie in a slab: how many across and up, and length and height as they lie."""
    assert kind.saw is not None
    kerf = kind.saw.kerf_mm

    def laid(length: float, height: float) -> tuple[int, int, float, float]:
        across = math.floor((kind.length_mm + kerf + 1e-6) / (length + kerf))
        up = math.floor((kind.height_mm + kerf + 1e-6) / (height + kerf))
        return across, up, length, height

    return max(laid(size[1], size[2]), laid(size[2], size[1]), key=lambda way: way[0] * way[1])


def in_slab(kind: MouldKind, size: Size) -> int:
    """Blocks of one size that a slab gives."""
    across, up, *_ = grid(kind, size)
    return across * up
