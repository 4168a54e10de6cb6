"""Which mould can cast which block.

A cavity casts one block of its own height and thickness, and of its own length or, with stop-ends, shorter. Where
faces of the block lean, the mould must have inserts that lean so; upright faces take inserts of 0 deg. A slab is
sawn into blocks of its thickness, turned or not, with upright faces. Nothing ordered is cast in a filler mould.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from blockrun import units
from blockrun.order.lines import OrderLine
from blockrun.order.tenths import tenths_down, tenths_up
from blockrun.site.moulds import MouldKind
from blockrun.units import listed

TOLERANCE_MM: Final = 0.01
"""Our choice: far under what a mould maker can hold, far over the rounding of inches."""
TOLERANCE_DEG: Final = 0.25
"""Our choice: under a millimetre over the thickness of a block, which the joint takes up."""
_SLACK_MM: Final = TOLERANCE_MM + 1e-9


def castable(kind: MouldKind, line: OrderLine) -> bool:
    """Whether a cavity of this kind can cast the block of this line."""
    return not any(obstacles(kind, line, "SI"))


@dataclass(frozen=True)
class Lack:
    """What keeps a mould from casting a block: the side it is about, if any, and what would have to be otherwise.

    ``due`` stands in the words at ``{}``; where it ``differs`` from block to block, the cause is one all the same.
    """

    side: str
    words: str
    due: str = ""
    differs: bool = False

    @property
    def alike(self) -> tuple[str, str]:
        """What blocks that fail for one cause have in common."""
        return self.side, self.words if self.differs else self.said([self.due])

    def said(self, dues: Iterable[str]) -> str:
        """In words, for one block or several."""
        return self.words.format(listed(tuple(dict.fromkeys(dues))))


def obstacles(kind: MouldKind, line: OrderLine, show_in: str) -> Iterator[Lack]:
    """What keeps a mould from casting a block; nothing where it can."""
    if kind.filler:
        yield Lack("", "filler: false")
    if kind.saw:
        yield from _not_sawn(kind, line, show_in)
        return
    for side in ("height", "thickness"):
        due = getattr(line, f"{side}_mm")
        if abs(getattr(kind, f"{side}_mm") - due) > _SLACK_MM:
            yield Lack(side, f"a {side} of {{}}", units.show(due, "length", show_in))
    short = kind.length_mm - line.length_mm
    if short < -_SLACK_MM:
        yield Lack("length", "a length of {}", units.show(line.length_mm, "length", show_in), differs=True)
    elif short > _SLACK_MM and not kind.stop_ends:
        yield Lack("length", "stop_ends: true")
    for key, angles, due in _leans(kind, line):
        if min(abs(angle - due) for angle in angles) > TOLERANCE_DEG:
            yield Lack("", f"{{}} among its {key}", f"{due:.3g} deg", differs=True)


def _not_sawn(kind: MouldKind, line: OrderLine, show_in: str) -> Iterator[Lack]:
    """The same for a slab."""
    if abs(kind.thickness_mm - line.thickness_mm) > _SLACK_MM:
        yield Lack("thickness", "a thickness of {}", units.show(line.thickness_mm, "length", show_in))
    slab, block = (kind.length_mm, kind.height_mm), (line.length_mm, line.height_mm)
    for side, have, want in zip(("length", "height"), sorted(slab), sorted(block), strict=True):
        if tenths_up(want) > tenths_down(have):
            has = units.show(have, "length", show_in)
            yield Lack(side, f"{{}} where it has {has}", units.show(want, "length", show_in))
    if any(abs(due) > TOLERANCE_DEG for _, _, due in _leans(kind, line)):
        yield Lack("", "no saw, for the faces lean")


def _leans(kind: MouldKind, line: OrderLine) -> Iterator[tuple[str, tuple[float, ...], float]]:
    """Each way in which faces lean: the key of the mould, its inserts, and what the block needs; degrees."""
    yield "wedges", kind.wedges_deg, line.bevel_deg
    yield "tapers", kind.tapers_deg, line.taper_deg
    yield "bed_wedges", kind.bed_wedges_deg, line.bed_deg
