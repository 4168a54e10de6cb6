"""Saw plans for the wall beside the saw: the slab to scale, lines numbered in the order they are sawn, and a list."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from blockrun.show.cautions import DUST
from blockrun.show.paper.press import Sheet
from blockrun.show.saw_sheet import HOW, blocks_said, cut_said, heavy, lengths_in, saw_plan_said, used_on
from blockrun.show.tape import on_tape
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.show.cuts import Cut, Piece
    from blockrun.show.paper.asked import Asked
    from blockrun.show.saw_plans import SawPlan
    from blockrun.site import Site


def saw_pages(asked: Asked) -> Iterator[Sheet]:
    """A page for each saw plan by which a slab is poured or sawn on the days printed."""
    for saw_plan in used_on(asked.days, asked.diary.saw_plans):
        yield Sheet("saw_pages", _page(saw_plan, asked.plan.site))


def _page(saw_plan: SawPlan, site: Site) -> dict[str, Any]:
    units, sawn = site.units, saw_plan.sawn
    return {
        "title": f"Saw plan {saw_plan.number}",
        "said": saw_plan_said(saw_plan, units),
        "gives": listed(list(blocks_said(saw_plan, units))),
        "how": f"{HOW} {lengths_in(units)}",
        "cautions": f"{heavy(saw_plan.wet_kg, site)} {DUST}",
        "length": saw_plan.kind.length_mm,
        "height": saw_plan.kind.height_mm,
        "blocks": [_drawn(block) for block in sawn.blocks],
        "offcuts": [_drawn(offcut) for offcut in sawn.offcuts],
        "cuts": [{**_line(cut, units), "said": cut_said(cut, saw_plan, units)} for cut in sawn.cuts],
    }


def _drawn(piece: Piece) -> dict[str, Any]:
    return {
        "left": piece.left_mm,
        "bottom": piece.bottom_mm,
        "length": piece.length_mm,
        "height": piece.height_mm,
        "name": piece.name,
    }


def _line(cut: Cut, units: str) -> dict[str, Any]:
    return {
        "upright": cut.upright,
        "at": cut.at_mm,
        "from": cut.from_mm,
        "to": cut.to_mm,
        "tape": on_tape(cut.at_mm, units),
    }
