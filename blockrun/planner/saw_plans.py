"""What is sawn from what, in the optimiser's whole numbers, and its saw plans back in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from blockrun.optimiser.problem import Stack
from blockrun.optimiser.sawing.plan import Piece, Sawn, SawPlan, Settled, Slab, ToSaw
from blockrun.order.tenths import TENTHS_A_MM, tenths_down, tenths_up
from blockrun.planner.sawing import Sawing, SawnBlock, SawnSlab, SlabsNeeded
from blockrun.planner.slabs import Sawable

if TYPE_CHECKING:
    from blockrun.planner.wanted import FormatKey


def to_saw(of: Sawable) -> ToSaw:
    """What is sawable, in tenths of a millimetre; its items are the keys in their order."""
    return ToSaw(
        slabs=tuple(Slab(tenths_down(kind.length_mm), tenths_down(kind.height_mm)) for kind in of.kinds),
        kerfs=tuple(tenths_up(kind.saw.kerf_mm) for kind in of.kinds if kind.saw),
        most=of.most_blocks,
        sizes=tuple((tenths_up(length), tenths_up(height)) for _, length, height, *_ in of.keys),
        demand=tuple(of.blocks.values()),
        sawn_only=frozenset(item for item, key in enumerate(of.keys) if key in of.sawn_only),
        stack=Stack(places=of.stack.places, layers=of.stack.layers) if of.stack else None,
    )


def sawing_of(found: Sequence[Sawable], settled: Sequence[Settled]) -> Sawing:
    """All saw plans that a plan may use, of what was found and settled."""
    needed: list[SlabsNeeded] = []
    slabs: dict[SawnSlab, None] = {}
    for of, plans in zip(found, settled, strict=True):
        if of.sawn_only:
            needed.append(_needed(of, plans.needed))
            slabs |= dict.fromkeys(slab for slab, _ in needed[-1].slabs)
        slabs |= dict.fromkeys(_slab(of, kind, plan) for kind, plan in plans.choice)
    return Sawing(tuple(needed), tuple(slab for slab in slabs if slab.blocks))


def _needed(of: Sawable, sawn: Sawn) -> SlabsNeeded:
    litres = of.thickness_mm / (TENTHS_A_MM**2 * 1e6)
    slabs = tuple((_slab(of, kind, plan), count) for kind, plan, count in sawn.plans)
    return SlabsNeeded(of.mix, of.thickness_mm, slabs, sawn.cost * litres, sawn.bound * litres, sawn.proven)


def _slab(of: Sawable, kind: int, plan: SawPlan) -> SawnSlab:
    blocks = (_in_mm(piece, of.keys[piece.item]) for piece in plan.pieces)
    return SawnSlab(of.kinds[kind], of.mix, tuple(blocks))


def _in_mm(piece: Piece, block: FormatKey) -> SawnBlock:
    turned = piece.length != tenths_up(block[1])
    length, height = (block[2], block[1]) if turned else (block[1], block[2])
    return SawnBlock(block, piece.x / TENTHS_A_MM, piece.y / TENTHS_A_MM, length, height)
