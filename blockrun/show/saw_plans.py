"""The saw plans of a plan, numbered: equal layouts of one kind of mould are one, in the order they are first cast.

A plan made anew keeps the numbers of the plans before.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadPlan
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.rows import rows_of
from blockrun.planner.saw_numbers import Layout, layout_of, saw_numbers
from blockrun.show.cuts import Piece, SawnUp, kerf_of, saw_slab
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind

Turn = tuple[str, int]
"""A mould and its turn."""
_DIGITS: Final = 2
_MM3_A_M3: Final = 1e9


@dataclass(frozen=True)
class SawPlan:
    """How equal slabs are sawn.

    Attributes
    ----------
    number : from 1, within its plan and those before it.
    kind, kerf_mm : the mould of the slab, and how wide its saw cuts.
    sawn : cuts, blocks and offcuts. Blocks are named by their mark; by all of them where blocks of one size have
        several.
    slabs : turns of moulds that cast it, in the order they are cast.
    wet_kg : mass of the heaviest of these slabs, as poured.
    """

    number: int
    kind: MouldKind
    kerf_mm: float
    sawn: SawnUp
    slabs: tuple[Turn, ...]
    wet_kg: float

    @property
    def gives(self) -> Mapping[str, int]:
        """Blocks of each mark, as they lie from the left and the bottom on."""
        return Counter(block.name for block in sorted(self.sawn.blocks, key=_place))


def saw_plans_of(plan: Plan) -> tuple[SawPlan, ...]:
    """All saw plans of a plan; none where it saws no slabs.

    Raises
    ------
    BadPlan : what its table of sawing says fits no block of the plan, or cannot be sawn.
    """
    kinds = {kind.kind: kind for kind in plan.site.moulds if kind.saw}
    alike: defaultdict[Layout, list[Turn]] = defaultdict(list)
    slabs = _slabs(plan, kinds)
    for turn, blocks in slabs.items():
        alike[layout_of(kind_named(turn[0]), map(_place, blocks))].append(turn)
    wet_kg, by_slab = _wet_kg(plan), _numbers(plan, slabs)
    numbers = {layout: min(by_slab[turn] for turn in turns) for layout, turns in alike.items()}
    return tuple(
        SawPlan(
            numbers[layout],
            kinds[kind],
            kerf_of(kinds[kind]),
            _sawn(turns[0], kinds[kind], _named([slabs[turn] for turn in turns])),
            tuple(turns),
            max(wet_kg[turn] for turn in turns),
        )
        for layout, turns in sorted(alike.items(), key=lambda one: numbers[one[0]])
        for kind in [layout[0]]
    )


def _numbers(plan: Plan, slabs: Iterable[Turn]) -> dict[Turn, int]:
    """The number that each slab's layout has or had, as the table lays its blocks: cuts may push them closer."""
    places: defaultdict[Turn, list[tuple[float, ...]]] = defaultdict(list)
    for row in rows_of(plan.tables.sawing):
        places[row.mould, row.turn].append((row.from_left_mm, row.from_bottom_mm, row.length_mm, row.height_mm))
    layouts = {turn: layout_of(kind_named(turn[0]), places[turn]) for turn in slabs}
    numbers = saw_numbers(layouts.values(), plan.begun)
    return {turn: numbers[layout] for turn, layout in layouts.items()}


def _slabs(plan: Plan, kinds: Mapping[str, MouldKind]) -> dict[Turn, tuple[Piece, ...]]:
    """Blocks of each slab, named by their marks, in the order slabs are cast."""
    casts = {(row.mould, row.turn, row.cavity): row for row in rows_of(plan.tables.casts)}
    found: defaultdict[Turn, list[Piece]] = defaultdict(list)
    first: dict[Turn, int] = {}
    for row in rows_of(plan.tables.sawing):
        turn, cast = (row.mould, row.turn), casts.get((row.mould, row.turn, row.cavity))
        if cast is None or kind_named(row.mould) not in kinds:
            raise _bad(f"sawing has a row for block {row.cavity} of {_said(turn)}, and no such block is sawn")
        found[turn].append(Piece(row.from_left_mm, row.from_bottom_mm, row.length_mm, row.height_mm, cast.mark))
        first[turn] = min(first.get(turn, cast.cast), cast.cast)
    in_order = sorted(found, key=lambda turn: first[turn])
    return {turn: _sawn(turn, kinds[kind_named(turn[0])], found[turn]).blocks for turn in in_order}


def _sawn(turn: Turn, kind: MouldKind, blocks: Sequence[Piece]) -> SawnUp:
    sawn = saw_slab(kind, blocks)
    if sawn is None:
        raise _bad(f"no cuts from edge to edge part the blocks of {_said(turn)}")
    return sawn


def _named(slabs: Sequence[Sequence[Piece]]) -> list[Piece]:
    """Blocks of equal slabs laid over one another, each with all of its names."""
    names: defaultdict[tuple[float, ...], dict[str, None]] = defaultdict(dict)
    for block in (block for blocks in slabs for block in blocks):
        names[_place(block)][block.name] = None
    return [replace(block, name="/".join(sorted(names[_place(block)]))) for block in slabs[0]]


def _wet_kg(plan: Plan) -> dict[Turn, float]:
    """Mass of each slab as poured."""
    density = {name: mix.wet_density_kg_m3 for name, mix in mix_proportions(plan.site, plan.order).items()}
    volume_m3 = {kind.kind: math.prod(kind.cavity) / _MM3_A_M3 for kind in plan.site.moulds}
    casts = rows_of(plan.tables.casts)
    return {(row.mould, row.turn): density[row.mix] * volume_m3[kind_named(row.mould)] for row in casts}


def _place(block: Piece) -> tuple[float, ...]:
    return tuple(
        round(float(side), _DIGITS) for side in (block.left_mm, block.bottom_mm, block.length_mm, block.height_mm)
    )


def _said(turn: Turn) -> str:
    return f"{turn[0]} turn {turn[1]}"


def _bad(what: str) -> BadPlan:
    return BadPlan(what, "See what is wrong with: blockrun audit DIR")
