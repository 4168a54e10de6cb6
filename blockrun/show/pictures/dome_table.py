"""All numbers of a dome's courses on one page, for the layers, the casters and the sawyer, and what to know of it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Any, Final

from blockrun import units
from blockrun.order.domes import DomeLayout, DomePart, Edges, Ring
from blockrun.show.pictures.drawn import PAGE_HEIGHT, PAGE_WIDTH, page

_TOP: Final = 21.0
_COLUMNS: Final = (
    ("", "course", 8), ("", "way", 20), ("", "blocks", 29), ("", "height", 39), ("lean", "deg", 47),
    ("arm", "length", 58), ("arm", "deg", 67), ("radius", "inside", 78), ("radius", "outside", 89),
    ("outside", "bottom", 101), ("edges", "top", 111), ("inside", "bottom", 122), ("edges", "top", 132),
    ("saw angles, deg", "end / up / bed", 152), ("head", "joints", 164), ("bed", "in, out", 176),
    ("closing", "piece", 188),
)  # fmt: skip
_HEAD: Final = 7.0
_CHARACTERS: Final = 165
"""Of a note, on one line."""


def dome_table(part: DomePart, layout: DomeLayout, *, show_in: str = "SI") -> str:
    """SVG of a row of numbers for each course, the highest first, and under them the notes.

    Parameters
    ----------
    show_in : ``SI`` for mm or ``US`` for inches.
    """
    unit = "inches" if show_in == "US" else "mm"
    says = [
        f"Lengths in {unit}. Arm: from the pivot to the top edge of the inside face. Radii: of the bottom edges."
        " Edges: of a block as laid.",
        "Saw angles: each end through the thickness / each end up the face / each bed, for joints of even width."
        " Closing piece: its four edges below.",
    ]
    lines = list(_notes(layout))
    note_mm = min(3.2, (PAGE_HEIGHT - _TOP - _HEAD) / 2 / max(len(lines), 1))
    row_mm = min(4.2, (PAGE_HEIGHT - _TOP - _HEAD - note_mm * (len(lines) + 2)) / len(layout.courses))
    under = _TOP + _HEAD + row_mm * len(layout.courses) + 4
    return page(
        f"Dome {part.name}: setting out, course by course",
        says,
        cells=[*_cells(layout.courses, row_mm, show_in), *_lines(lines, under, note_mm)],
    )


def _cells(rings: Sequence[Ring], row_mm: float, show_in: str) -> Iterator[dict[str, Any]]:
    size = min(2.4, 0.8 * row_mm)
    for upper, lower, x in _COLUMNS:
        yield _cell(x, _TOP + 2, upper, 2.1, bold=True)
        yield _cell(x, _TOP + 4.6, lower, 2.1, bold=True)
    for row, ring in enumerate(reversed(rings)):
        for (_, _, x), text in zip(_COLUMNS, _row(ring, show_in), strict=True):
            yield _cell(x, _TOP + _HEAD + row_mm * (row + 0.5), text, size)


def _row(ring: Ring, show_in: str) -> tuple[str, ...]:
    def length(value_mm: float) -> str:
        return _number(value_mm, show_in)

    low, high = map(length, ring.head_joint_mm)
    inside, outside = map(length, ring.bed_joint_mm)
    return (
        str(ring.course),
        ring.setting.way.value,
        str(ring.count),
        length(ring.height_mm),
        f"{ring.lean_deg:.1f}",
        length(ring.arm_mm),
        f"{ring.arm_deg:.1f}",
        length(ring.inside_radius_mm),
        length(ring.outside_radius_mm),
        *map(length, _edges(ring.edges)),
        f"{ring.bevel_deg:.1f} / {ring.taper_deg:.1f} / {ring.bed_deg:.1f}",
        low if low == high else f"{low}-{high}",
        f"{inside}, {outside}",
        length(ring.closing.outside_bottom_mm) if ring.closing else "none",
    )


def _notes(layout: DomeLayout) -> Iterator[str]:
    """Lines of the notes, then of the closing pieces."""
    for note in layout.notes:
        yield from textwrap.wrap(note, _CHARACTERS, initial_indent="- ", subsequent_indent="  ")
    for ring in layout.courses:
        if ring.closing:
            lengths = " / ".join(f"{edge:.0f}" for edge in _edges(ring.closing))
            yield f"- Closing piece of course {ring.course}: outside bottom / top / inside bottom / top {lengths} mm."


def _lines(lines: Sequence[str], top: float, high: float) -> Iterator[dict[str, Any]]:
    for number, text in enumerate(lines):
        yield _cell(2, top + high * (number + 1), text, min(2.5, 0.8 * high), anchor="start")


def _cell(x: float, y: float, text: str, size: float, *, bold: bool = False, anchor: str = "end") -> dict[str, Any]:
    return {"x": min(x, PAGE_WIDTH - 1), "y": round(y, 2), "size": round(size, 2), "text": text, "bold": bold,
            "anchor": anchor}  # fmt: skip


def _edges(edges: Edges) -> tuple[float, float, float, float]:
    return edges.outside_bottom_mm, edges.outside_top_mm, edges.inside_bottom_mm, edges.inside_top_mm


def _number(length_mm: float, show_in: str) -> str:
    """A length without its unit: to a millimetre, or to a hundredth of an inch."""
    if show_in != "US":
        return f"{length_mm:.0f}"
    return f"{units.in_unit(length_mm, 'length', 'in'):.2f}"
