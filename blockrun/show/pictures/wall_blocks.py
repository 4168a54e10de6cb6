"""Blocks of an elevation, each with its name in letters that can be read, beside it where it has no room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from blockrun.order.laid import Laid, Point
from blockrun.show.pictures.drawn import middle_of
from blockrun.show.pictures.paper import LEAST_MM, kind_of, letters_mm, points, sides_said
from blockrun.show.pictures.strips import Strip
from blockrun.show.pictures.wall_names import WallNames

_OUT: Final = 1.7
"""How far outside a block its name stands, in mm on paper."""


def drawn_blocks(
    strip: Strip, shown: Sequence[Laid], names: WallNames, units: str
) -> tuple[list[dict[str, Any]], set[str]]:
    """All that the template draws of the blocks of a strip, and the marks that only short letters stand for."""
    drawn, short = [], set()
    for block in shown:
        middle = sum(along for along, _ in block.corners) / len(block.corners)
        label = _label(strip, block, shown, names) if strip.left_mm <= middle <= strip.right_mm else {"text": ""}
        if label["text"].partition(" ")[0] == names.short[names.mark(block)]:
            short.add(names.mark(block))
        kind = kind_of(block)
        drawn.append(
            {"points": points(strip.shape(block.corners)), "kind": kind, "title": _title(block, names, units)} | label
        )
    return drawn, short


def _title(block: Laid, names: WallNames, units: str) -> str:
    kind = kind_of(block)
    said = (
        names.mark(block),
        f"course {block.course}",
        f"cast {sides_said(block.shape, units)}",
        kind.words if kind.letter else "",
        block.cut,
    )
    return ", ".join(part for part in said if part)


def _label(strip: Strip, block: Laid, shown: Sequence[Laid], names: WallNames) -> dict[str, Any]:
    """The longest name that fits; else the shortest, beside the block and joined to it by a line."""
    corners = strip.shape(block.corners)
    x, y = middle_of(corners)
    across, down = _room(corners)
    for text in (names.full(block), names.least(block)):
        size, upright = letters_mm(text, across, down)
        if size >= LEAST_MM:
            return {"text": text, "x": x, "y": y, "size": size, "upright": upright, "from": None}
    out = _free(strip, block, shown)
    at = y + out * (down / 2 + _OUT)
    return {"text": names.least(block), "x": x, "y": at, "size": LEAST_MM, "upright": False, "from": y if out else None}


def _room(corners: Sequence[Point]) -> tuple[float, float]:
    """Width and height of a box about the middle that slopes leave free."""
    wide, high = (max(side) - min(side) for side in zip(*corners, strict=True))
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2
    share = area / max(1e-9, wide * high)
    return share * wide, share * high


def _free(strip: Strip, block: Laid, shown: Sequence[Laid]) -> int:
    """Where there is room for letters on paper: below a block (1), above it (-1), or neither (0)."""
    along, up = middle_of(block.corners)
    ups = [up for _, up in block.corners]
    half, out = (max(ups) - min(ups)) / 2, _OUT * strip.scale
    sides = ((1, up - half - out), (-1, up + half + out))
    return next((side for side, place in sides if not any(_near(other, along, place, out) for other in shown)), 0)


def _near(block: Laid, along: float, up: float, wide: float) -> bool:
    alongs, ups = zip(*block.corners, strict=True)
    return bool(min(alongs) - wide <= along <= max(alongs) + wide and min(ups) <= up <= max(ups))
