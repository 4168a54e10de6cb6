"""Rules on which block is cast in which cavity."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import LEAN_DEG, SIDE_MM, figure, near
from blockrun.planner.audit.finding import Rule, Said

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.site import MouldKind


def cavity_casts_the_block(case: Case) -> Iterator[Said]:
    """Cast blocks in cavities of their height, thickness and length, or longer with stop-ends, that lean as they do.

    What was cast before a plan was made anew was cast as the journal tells.
    """
    casts = [cast for cast in case.records.casts if (cast.mould, cast.turn, cast.cavity) not in case.past.blocks]
    pairs = {(cast.mould, cast.mark) for cast in casts}
    bad = {(mould, mark): why for mould, mark in pairs if (why := why_not(case.moulds[mould], case.blocks[mark]))}
    for cast in casts:
        if (cast.mould, cast.mark) in bad:
            why = bad[cast.mould, cast.mark]
            yield f"block {cast.cast}", f"block {cast.cast}, mark {cast.mark}, cannot be cast in {cast.mould}: {why}"


def why_not(kind: MouldKind, block: OrderLine) -> str:
    """Say why a kind of mould cannot cast a block; empty where it can. What is sawn out of a slab has square faces."""
    if kind.saw:
        thick = near(kind.thickness_mm, block.thickness_mm, SIDE_MM)
        upright = not any(abs(getattr(block, leans)) > LEAN_DEG for leans in _INSERTS.values())
        if not thick:
            return f"the block is {figure(block.thickness_mm)} mm thick, the slab {figure(kind.thickness_mm)} mm"
        return "" if upright else "its faces lean, and slabs are sawn square"
    cavity = (kind.length_mm, kind.height_mm, kind.thickness_mm)
    for word, have, want in zip(("long", "high", "thick"), cavity, _size(block), strict=True):
        shortened = word == "long" and kind.stop_ends and want < have
        if not near(have, want, SIDE_MM) and not shortened:
            return f"the block is {figure(want)} mm {word}, the cavity {figure(have)} mm"
    for key, leans in _INSERTS.items():
        due, inserts = getattr(block, leans), getattr(kind, f"{key}_deg")
        if all(abs(angle - due) > LEAN_DEG for angle in inserts):
            return f"its faces lean by {figure(due)} deg, and none of the {key} is near that"
    return ""


_INSERTS: Final = {"wedges": "bevel_deg", "tapers": "taper_deg", "bed_wedges": "bed_deg"}
"""Inserts of a mould, and the lean of a block that each gives."""


def _size(block: OrderLine) -> tuple[float, float, float]:
    return block.length_mm, block.height_mm, block.thickness_mm


def cavity_number(case: Case) -> Iterator[Said]:
    """Cast a block in one of the cavities its mould has, counted from 1."""
    for cast in case.records.casts:
        kind = case.moulds[cast.mould]
        cavities = kind.cavities
        if not kind.saw and not 1 <= cast.cavity <= cavities:
            yield (
                f"block {cast.cast}",
                f"block {cast.cast} is in cavity {cast.cavity} of {cast.mould}, which has {cavities}",
            )


def one_block_a_cavity(case: Case) -> Iterator[Said]:
    """Cast one block a turn in a cavity."""
    blocks = Counter((cast.mould, cast.turn, cast.cavity) for cast in case.records.casts)
    for (mould, turn, cavity), number in blocks.items():
        if number > 1:
            yield f"{mould} turn {turn}", f"cavity {cavity} of {mould} casts {number} blocks in turn {turn}"


CAVITIES: tuple[Rule, ...] = (cavity_casts_the_block, cavity_number, one_block_a_cavity)
