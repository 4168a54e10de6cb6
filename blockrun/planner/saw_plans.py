"""How slabs are sawn, settled by the optimiser: the saw plans of one mix and thickness after the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing import Piece, SawPlan, Slab, best_plan, filled, saw, trimmed
from blockrun.order.tenths import TENTHS_A_MM, tenths_down, tenths_up
from blockrun.planner.plan import Stop
from blockrun.planner.sawing import Sawing, SawnBlock, SawnSlab, SlabsNeeded
from blockrun.planner.slabs import Sawable

if TYPE_CHECKING:
    from blockrun.planner.wanted import FormatKey


SAWING_WORK = 5.0
"""What saw plans are worth, for each mix and thickness."""


def settle(found: Sequence[Sawable], seed: int, *, stop: Stop, tell: object = None) -> Sawing:
    """Saw plans for all that is sawn; there is nothing to ``tell`` on the way."""
    effort = Effort(SAWING_WORK, stop, seed)
    needed: list[SlabsNeeded] = []
    slabs: dict[SawnSlab, None] = {}
    for of in found:
        plans = _SawPlans(of, effort)
        if of.sawn_only:
            needed.append(plans.needed())
            slabs |= dict.fromkeys(slab for slab, _ in needed[-1].slabs)
        slabs |= dict.fromkeys(plans.of_choice())
    return Sawing(tuple(needed), tuple(slab for slab in slabs if slab.blocks))


@dataclass(frozen=True)
class _SawPlans:
    """Saw plans for what ``of`` names; ``effort`` for each."""

    of: Sawable
    effort: Effort

    def needed(self) -> SlabsNeeded:
        """Slabs for what only these give; the rest of the blocks come out of what is left over."""
        of = self.of
        offcuts = [item for item, key in enumerate(of.keys) if key not in of.sawn_only]
        first = saw(self._slabs, self._kerfs, self._sizes, self._demand, self.effort, offcuts=offcuts)
        used = Counter({(kind, self._kept(kind, plan)): count for kind, plan, count in first.plans})
        whole = all(len(self._kept(kind, plan).pieces) == len(plan.pieces) for kind, plan, _ in first.plans)
        if not whole:
            used = self._few_at_a_time(offcuts)
        cost = sum(self._slabs[kind].area * count for (kind, _), count in used.items())
        litres = of.thickness_mm / (TENTHS_A_MM**2 * 1e6)
        slabs = tuple((self._in_mm(kind, plan), count) for (kind, plan), count in used.items())
        return SlabsNeeded(of.mix, of.thickness_mm, slabs, cost * litres, first.bound * litres, first.proven and whole)

    def _few_at_a_time(self, offcuts: Sequence[int]) -> Counter[tuple[int, SawPlan]]:
        """Where a turn may give fewer blocks than go into a slab: slabs of so many, until nothing is wanted."""
        left, used = Counter(dict(enumerate(self._demand))), Counter[tuple[int, SawPlan]]()
        while any(left[item] > 0 for item in range(len(self._demand)) if item not in offcuts):
            wanted = [max(0, left[item]) for item in range(len(self._demand))]
            kind, plan, _ = saw(self._slabs, self._kerfs, self._sizes, wanted, self.effort, offcuts=offcuts).plans[0]
            kept = self._kept(kind, plan)
            count = min(left[item] // each for item, each in kept.gives().items())
            left.subtract({item: count * each for item, each in kept.gives().items()})
            used[kind, kept] += count
        return used

    def of_choice(self) -> Iterator[SawnSlab]:
        """Slabs that may stand in for other moulds: of all blocks together, and for each as many as go in."""
        if self.of.sawn_only != frozenset(self.of.keys):
            sawn = saw(self._slabs, self._kerfs, self._sizes, self._demand, self.effort)
            yield from (self._in_mm(kind, self._kept(kind, plan)) for kind, plan, _ in sawn.plans)
        wanted, areas = Counter(dict(enumerate(self._demand))), [float(a * b) for a, b in self._sizes]
        for kind, (slab, kerf) in enumerate(zip(self._slabs, self._kerfs, strict=True)):
            for item, area in enumerate(areas):
                only = [area if other == item else 0.0 for other in range(len(areas))]
                alone = trimmed(best_plan(slab, kerf, self._sizes, only), wanted)
                fuller = filled(slab, kerf, self._sizes, alone, wanted - Counter(alone.gives()), areas)
                yield from (self._in_mm(kind, self._kept(kind, plan)) for plan in (alone, fuller))

    def _kept(self, kind: int, plan: SawPlan) -> SawPlan:
        """The plan without the blocks that there is no room or time for."""
        return SawPlan(plan.pieces[: self.of.room_for(kind, [piece.item for piece in plan.pieces])])

    def _in_mm(self, kind: int, plan: SawPlan) -> SawnSlab:
        blocks = (_in_mm(piece, self.of.keys[piece.item]) for piece in plan.pieces)
        return SawnSlab(self.of.kinds[kind], self.of.mix, tuple(blocks))

    @cached_property
    def _demand(self) -> list[int]:
        return list(self.of.blocks.values())

    @cached_property
    def _slabs(self) -> list[Slab]:
        return [Slab(tenths_down(kind.length_mm), tenths_down(kind.height_mm)) for kind in self.of.kinds]

    @cached_property
    def _kerfs(self) -> list[int]:
        return [tenths_up(kind.saw.kerf_mm) for kind in self.of.kinds if kind.saw]

    @cached_property
    def _sizes(self) -> list[tuple[int, int]]:
        return [(tenths_up(length), tenths_up(height)) for _, length, height, *_ in self.of.keys]


def _in_mm(piece: Piece, block: FormatKey) -> SawnBlock:
    turned = piece.length != tenths_up(block[1])
    length, height = (block[2], block[1]) if turned else (block[1], block[2])
    return SawnBlock(block, piece.x / TENTHS_A_MM, piece.y / TENTHS_A_MM, length, height)
