"""What an order takes of slabs: blocks that only slabs give, how many slabs these take, and what of them is waste."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.show.cuts import Piece, SawnUp, saw_slab
from blockrun.show.measures import by_volume, in_percent
from blockrun.show.page import HEADING, INDENT, Page, glued
from blockrun.units import counted, listed, show, show_size

if TYPE_CHECKING:
    from blockrun.planner.sawing import Sawing, SawnSlab, SlabsNeeded
    from blockrun.planner.wanted import FormatKey
    from blockrun.site import MouldKind

Marks = Mapping["FormatKey", str]
"""What blocks of each mix, size and lean are called."""
_ROUNDING: Final = 1e-6


@dataclass(frozen=True)
class Waste:
    """What of some slabs becomes no block, as shares of them: offcuts and dust of the saw."""

    offcuts: float
    dust: float


def waste_of(needed: SlabsNeeded) -> Waste:
    """What of the slabs of a mix and a thickness becomes no block, as seen from the front."""
    whole = blocks = dust = 0.0
    for slab, count in needed.slabs:
        sawn = _sawn(slab)
        whole += count * slab.kind.length_mm * slab.kind.height_mm
        blocks += count * sum(block.length_mm * block.height_mm for block in sawn.blocks)
        dust += count * sum(cut.dust_mm2 for cut in sawn.cuts)
    return Waste(max(0.0, whole - blocks - dust) / whole, dust / whole)


def _sawn(slab: SawnSlab) -> SawnUp:
    blocks = [Piece(b.from_left_mm, b.from_bottom_mm, b.length_mm, b.height_mm) for b in slab.blocks]
    sawn = saw_slab(slab.kind, blocks)
    assert sawn is not None, "saw plans are made by cuts from edge to edge"
    return sawn


def write_slabs(page: Page, sawing: Sawing, asked: Mapping[FormatKey, int], marks: Marks, units: str) -> None:
    """Write what only slabs give, the slabs of the best saw plans, and their waste.

    Parameters
    ----------
    sawing : saw plans settled for the order.
    asked : blocks that only slabs give, spares included, by what moulds see of them.
    marks : what these and others that are sawn beside them are called.
    """
    for needed in sawing.needed:
        page.blank()
        thickness = glued(f"{show(needed.thickness_mm, 'length', units)} thick")
        page.line((f"slabs of {needed.mix}, {thickness}", HEADING))
        only = [
            glued(f"{count} {marks[key]}")
            for key, count in asked.items()
            if (key[0], key[3]) == (needed.mix, needed.thickness_mm)
        ]
        page.line(f"for what no other mould casts: {listed(only)}", indent=INDENT)
        for line in _slabs_said(needed, marks, units):
            page.line(line, indent=INDENT)
        if more := [glued(f"{count} {marks[key]}") for key, count in _beyond(needed, asked).items()]:
            page.line(f"spares that slabs give besides, whatever further_spares says: {listed(more)}", indent=INDENT)


def _slabs_said(needed: SlabsNeeded, marks: Marks, units: str) -> Iterator[str]:
    kinds: Counter[MouldKind] = Counter()
    for slab, count in needed.slabs:
        kinds[slab.kind] += count
    of_kinds = [
        f"{glued(f'{n} of {kind.kind}')} ({glued(show_size(*kind.cavity, units))})" for kind, n in kinds.items()
    ]
    yield f"{listed(of_kinds)}; {_least_said(needed, list(kinds), units)}"
    waste = waste_of(needed)
    of_it = f"offcuts {in_percent(waste.offcuts)}, sawdust {in_percent(waste.dust)}"
    yield f"waste {in_percent(waste.offcuts + waste.dust)} of them: {of_it}"
    for slab, count in needed.slabs:
        gives = Counter[str]()
        for key, blocks in slab.gives.items():
            gives[marks[key]] += blocks
        said = ", ".join(glued(f"{blocks} {mark}") for mark, blocks in gives.items())
        yield f"{count} of {slab.kind.kind}: {said}"


def _beyond(needed: SlabsNeeded, asked: Mapping[FormatKey, int]) -> Counter[FormatKey]:
    """Blocks that slabs give beyond those that only they can: a slab is sawn as its saw plan says, to the last one."""
    given: Counter[FormatKey] = Counter()
    for slab, count in needed.slabs:
        for key, blocks in slab.gives.items():
            given[key] += count * blocks
    return +Counter({key: given[key] - asked[key] for key in given if key in asked})


def _least_said(needed: SlabsNeeded, kinds: list[MouldKind], units: str) -> str:
    """The least possible: in slabs where they are of one kind, else in what they take."""
    if needed.proven:
        return "the least possible (proven)"
    if len(kinds) == 1:
        each_l = math.prod(kinds[0].cavity) / 1e6
        slabs, least = round(needed.cost_l / each_l), math.ceil(needed.bound_l / each_l - _ROUNDING)
        return f"least possible {counted(least, 'slab')}: not proven, {glued(f'{slabs - least} more at most')}"
    cost, bound, more = (by_volume(litres, units) for litres in _litres(needed))
    return f"in all {cost}, least possible {bound}: not proven, {more} more at most"


def _litres(needed: SlabsNeeded) -> tuple[float, float, float]:
    return needed.cost_l, needed.bound_l, needed.cost_l - needed.bound_l
