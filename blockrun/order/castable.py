"""Which mould can cast which block.

A cavity casts one block of its own height and thickness, and of its own length or, with stop-ends, shorter. Where
faces of the block lean, the mould must have inserts that lean so; upright faces take inserts of 0 deg. A slab is
sawn into blocks of its thickness, turned or not, with upright faces. Nothing ordered is cast in a filler mould.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.order.lines import OrderLine
from blockrun.order.model import Order
from blockrun.order.tenths import tenths_down, tenths_up
from blockrun.site.model import Site
from blockrun.site.moulds import MouldKind

TOLERANCE_MM: Final = 0.01
"""Our choice: far under what a mould maker can hold, far over the rounding of inches."""
TOLERANCE_DEG: Final = 0.25
"""Our choice: under a millimetre over the thickness of a block, which the joint takes up."""
_SLACK_MM: Final = TOLERANCE_MM + 1e-9


def castable(kind: MouldKind, line: OrderLine) -> bool:
    """Whether a cavity of this kind can cast the block of this line."""
    return not any(_obstacles(kind, line, "SI"))


def check_castable(site: Site, lines: Iterable[OrderLine], order: Order | None = None) -> None:
    """Refuse blocks that no mould of the site can cast.

    Parameters
    ----------
    site, lines : as read and taken off.
    order : where the lines come from, to say in which row each block stands.

    Raises
    ------
    BadInput : with a fault for each such mark, naming the mould that comes nearest and what it lacks.
    """
    marks = {line.mark: line for line in lines if not any(castable(kind, line) for kind in site.moulds)}
    faults = [_fault(site, line) for _, line in sorted(marks.items())]
    if order:
        faults = [order.place(fault, str(fault.value), fault.name or "") for fault in faults]
    if faults:
        raise BadInput.of(faults)


def _obstacles(kind: MouldKind, line: OrderLine, show_in: str) -> Iterator[tuple[str, str]]:
    """What keeps a mould from casting a block: the side it is about, if any, and what would have to be otherwise."""
    if kind.filler:
        yield "", "filler: false"
    if kind.saw:
        yield from _not_sawn(kind, line, show_in)
        return
    for side in ("height", "thickness"):
        due = getattr(line, f"{side}_mm")
        if abs(getattr(kind, f"{side}_mm") - due) > _SLACK_MM:
            yield side, f"a {side} of {units.show(due, 'length', show_in)}"
    short = kind.length_mm - line.length_mm
    if short < -_SLACK_MM:
        yield "length", f"a length of {units.show(line.length_mm, 'length', show_in)}"
    elif short > _SLACK_MM and not kind.stop_ends:
        yield "length", "stop_ends: true"
    for key, angles, due in _leans(kind, line):
        if min(abs(angle - due) for angle in angles) > TOLERANCE_DEG:
            yield "", f"{due:.3g} deg among its {key}"


def _not_sawn(kind: MouldKind, line: OrderLine, show_in: str) -> Iterator[tuple[str, str]]:
    """The same for a slab."""
    if abs(kind.thickness_mm - line.thickness_mm) > _SLACK_MM:
        yield "thickness", f"a thickness of {units.show(line.thickness_mm, 'length', show_in)}"
    slab, block = (kind.length_mm, kind.height_mm), (line.length_mm, line.height_mm)
    for side, have, want in zip(("length", "height"), sorted(slab), sorted(block), strict=True):
        if tenths_up(want) > tenths_down(have):
            yield side, f"{units.show(want, 'length', show_in)} where it has {units.show(have, 'length', show_in)}"
    if any(abs(due) > TOLERANCE_DEG for _, _, due in _leans(kind, line)):
        yield "", "no saw, for the faces lean"


def _leans(kind: MouldKind, line: OrderLine) -> Iterator[tuple[str, tuple[float, ...], float]]:
    """Each way in which faces lean: the key of the mould, its inserts, and what the block needs; degrees."""
    yield "wedges", kind.wedges_deg, line.bevel_deg
    yield "tapers", kind.tapers_deg, line.taper_deg
    yield "bed_wedges", kind.bed_wedges_deg, line.bed_deg


def _fault(site: Site, line: OrderLine) -> BadInput:
    what = f"no mould can cast block {line.mark} ({_size(line, site)})"
    side, todo = _swapped(site, line) or _nearest(site, line)
    return BadInput(what, todo, name=side or "mark", value=line.mark)


def _swapped(site: Site, line: OrderLine) -> tuple[str, str] | None:
    """Two sides that look to have changed places, as the first of them and what to do."""
    for one, other in itertools.combinations(("height", "thickness", "length"), 2):
        sides = {f"{one}_mm": getattr(line, f"{other}_mm"), f"{other}_mm": getattr(line, f"{one}_mm")}
        turned = replace(line, **sides)
        for kind in site.moulds:
            if castable(kind, turned):
                casts = f"{kind.kind} casts blocks of {_size(turned, site)}"
                return one, f"Its {one} and {other} look swapped: {casts}. Swap them, or add a mould."
    return None


def _nearest(site: Site, line: OrderLine) -> tuple[str, str]:
    """The first side in which the mould that comes nearest differs, and what that mould lacks."""
    nearest = min(
        site.moulds, key=lambda kind: (len(list(_obstacles(kind, line, "SI"))), _distance(kind, line), kind.kind)
    )
    cavity = units.show_size(*nearest.cavity, site.units)
    sides, needs = zip(*_obstacles(nearest, line, site.units), strict=True)
    todo = f"The nearest is {nearest.kind} ({cavity}); it would need {' and '.join(needs)}."
    return sides[0], f"{todo} Add a mould, or change the block."


def _size(line: OrderLine, site: Site) -> str:
    return units.show_size(line.length_mm, line.height_mm, line.thickness_mm, site.units)


def _distance(kind: MouldKind, line: OrderLine) -> float:
    """How far apart cavity and block are, in mm."""
    return math.dist(kind.cavity, (line.length_mm, line.height_mm, line.thickness_mm))
