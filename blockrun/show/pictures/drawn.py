"""Bits of a picture of a dome: lines, blocks, words and keys, in mm on a page that A4 and Letter both hold."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from blockrun.show.pictures.paper import render
from blockrun.units import digits

PAGE_WIDTH: Final = 190
PAGE_HEIGHT: Final = 259
"""What both sheets leave within a margin of 10 mm: 210 mm of width from A4, 279 mm of height from Letter."""

SMALLEST: Final = 2.0
LARGEST: Final = 2.4
"""Sizes of words in blocks, mm; the smallest is the least that still prints clearly (our choice)."""
_WIDE: Final = 0.62
"""Width of a character, as a share of its size."""
TOP: Final = 23.0
SIDE: Final = 186.0
"""Where the drawing starts below the title, and how wide it is, mm."""

Point = tuple[float, float]
_COLOURS: Final = ("#f7e7a8", "#bfe1f6", "#f6cfa6", "#b9e3d3", "#f0cfe1", "#dddddd", "#c9d3f2", "#ffffff")
"""Tints of eight colours that colour-blind readers tell apart; each comes with strokes of its own."""
_STROKES: Final = (
    "", "M0 2.4L2.4 0", "M0 0L2.4 2.4", "M0 1.2H2.4", "M1.2 0V2.4", "M0 1.2H2.4M1.2 0V2.4",
    "M0 2.4L2.4 0M0 0L2.4 2.4", "M0.9 1.2a0.3 0.3 0 1 0 0.6 0a0.3 0.3 0 1 0 -0.6 0",
)  # fmt: skip


@dataclass(frozen=True)
class Fill:
    """A colour with strokes over it."""

    id: str
    colour: str
    strokes: str


@dataclass(frozen=True)
class Line:
    """A line or an area through points."""

    points: str
    fill: str = "none"
    stroke: str = "#000"
    width: float = 0.2
    dashes: str = ""


@dataclass(frozen=True)
class Label:
    """Words at a place."""

    x: float
    y: float
    text: str
    size: float = 2.6
    anchor: str = "middle"
    bold: bool = False


@dataclass(frozen=True)
class Word:
    """A line of the words of a block: how far under its middle, and what."""

    y: float
    text: str


@dataclass(frozen=True)
class Block:
    """A block on paper."""

    title: str
    points: str
    fill: str
    cut: bool
    x: float
    y: float
    turn: float
    size: float
    words: tuple[Word, ...]


@dataclass(frozen=True)
class Bar:
    """A scale bar: where, how long on paper, and what that is."""

    x: float
    y: float
    length: float
    words: str


def fills(count: int) -> list[Fill]:
    """So many fills, no two of the first 64 alike."""
    n = len(_COLOURS)
    return [Fill(f"f{i}", _COLOURS[i % n], _STROKES[(i + i // n) % n]) for i in range(count)]


def scale_bar(x: float, y: float, scale: float, units: str) -> Bar:
    """A bar of one, two or five metres or feet, a fifth of the page at most."""
    unit, unit_mm = ("ft", 304.8) if units == "US" else ("m", 1000.0)
    length = next(n for n in (10, 5, 2, 1, 0.5, 0.2) if n * unit_mm * scale <= PAGE_WIDTH / 5 or n == 0.2)
    return Bar(x, y, round(length * unit_mm * scale, 3), f"{digits(length)} {unit}")


def middle_of(outline: Sequence[Point]) -> Point:
    """The centroid of an outline."""
    area = x = y = 0.0
    for (x0, y0), (x1, y1) in zip(outline, [*outline[1:], outline[0]], strict=True):
        cross = x0 * y1 - x1 * y0
        area, x, y = area + cross / 2, x + (x0 + x1) * cross / 6, y + (y0 + y1) * cross / 6
    if abs(area) < 1e-9:
        return outline[0]
    return x / area, y / area


def extent(outline: Sequence[Point], turn_rad: float) -> tuple[float, float]:
    """Width and height of an outline for words turned by an angle."""
    cos, sin = math.cos(turn_rad), math.sin(turn_rad)
    across = [x * cos + y * sin for x, y in outline]
    down = [y * cos - x * sin for x, y in outline]
    return max(across) - min(across), max(down) - min(down)


def words_in(mark: str, course: str, room: tuple[float, float], alone: str = "") -> tuple[float, tuple[Word, ...]]:
    """Mark and course in a block, as large as fits: two lines, else one word alone (the mark if empty), or none."""
    wide, high = room
    across = 0.92 * wide / (_WIDE * max(len(mark), len(course)))
    two = min(LARGEST, across, high / 2.5)
    if two >= SMALLEST:
        return round(two, 2), (Word(round(-0.15 * two, 2), mark), Word(round(0.95 * two, 2), course))
    one = min(LARGEST, 0.92 * wide / (_WIDE * len(alone or mark)), high / 1.3)
    if one >= SMALLEST:
        return round(one, 2), (Word(round(0.35 * one, 2), alone or mark),)
    return 0.0, ()


def page(name: str, says: Sequence[str], **parts: Any) -> str:
    """A page of the dome's template; parts that are not given stay empty."""
    empty: dict[str, Any] = dict.fromkeys(("fills", "lines", "blocks", "overs", "labels", "keys", "cells"), ())
    size = {"width": PAGE_WIDTH, "height": PAGE_HEIGHT}
    return (
        render("domes.svg.jinja", **(empty | {"window": None, "bar": None} | parts), name=name, says=says, page=size)
        + "\n"
    )
