"""What is said of the piers of a wall: how each is bonded, or why it is not and what would change that."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Final

from blockrun.order.walls.bond import EPS_MM
from blockrun.order.walls.found import Found
from blockrun.order.walls.headers import Bonded, header_mm, suits, widths_that_bond
from blockrun.order.walls.part import WallPart

ENGINEER: Final = "to be designed by a licensed engineer"


def pier_notes(part: WallPart, found: Sequence[Found]) -> Iterator[str]:
    """A sentence on the piers of a wall, several where these are not alike."""
    names: dict[str, list[str]] = defaultdict(list)
    for run in found:
        for index, bonded in enumerate(run.piers, 1):
            names[_bond(part, bonded)].append(run.said(f"pier {index}").replace(": ", ", "))
    yield from (f"{'; '.join(piers)}: {sentence}." for sentence, piers in names.items())


def _bond(part: WallPart, bonded: Bonded) -> str:
    if not bonded.headers:
        return f"laid against the wall, not bonded into it; {_instead(part, bonded)}: ties are {ENGINEER}"
    count, long = len(bonded.headers), part.said(header_mm(part, bonded.pier))
    blocks = f"{count} blocks of {long}" if count > 1 else f"a block of {long}"
    courses = ", ".join(map(str, sorted(bonded.headers[0].courses)))
    return f"bonded into the wall, {blocks} laid across both in courses {courses}"


def _instead(part: WallPart, bonded: Bonded) -> str:
    """What would let a pier be bonded."""
    deep = part.block[0] - part.block[2] - part.joint_mm
    if deep < EPS_MM:
        return f"that takes blocks longer than {part.said(part.block[0] - deep)}"
    if not suits(part, bonded.pier):
        alone, beside = map(part.said, widths_that_bond(part))
        return f"that takes a width of {alone}, or of {beside} or more, and a projection of {part.said(deep)} at most"
    clear = part.said(part.least_mm + part.joint_mm)
    return f"that takes {clear} of wall beside it, and an even course without a lintel or a ring beam there"
