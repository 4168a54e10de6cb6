"""All numbers of a dome's courses on one page, for the layers, the casters and the sawyer, and what to know of it."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from blockrun.order.domes import DomeLayout, DomePart, Ring
from blockrun.show.pictures.drawn import PAGE_HEIGHT, PAGE_WIDTH, page
from blockrun.units import in_unit

_TOP: Final = 27.5
_COLUMNS: Final = (
    ("", "course", 9), ("", "way", 20), ("blocks", "laid", 28), ("full", "ring", 35), ("first", "deg", 43),
    ("", "height", 51), ("lean", "deg", 58), ("arm", "length", 67), ("arm", "deg", 75), ("radius", "inside", 84),
    ("radius", "outside", 93), ("outside", "bottom", 102), ("outside", "top", 110), ("inside", "bottom", 119),
    ("inside", "top", 127),
    ("set, deg", "end/up/bed", 146), ("even, deg", "end/up/bed", 164), ("head", "joints", 175),
    ("bed", "in, out", 189),
)  # fmt: skip
_HEAD: Final = 7.0
_UNDER_ROWS: Final = PAGE_HEIGHT - _TOP - _HEAD
"""Room for rows and notes."""
_NOTES_MM: Final = (3.2, 2.8, 2.5, 2.2, 1.9)
"""From line to line of the notes: the first with which they take no more than half of that room."""
_WIDE: Final = 0.56
"""Mean width of a letter of running words, as a share of its size, in the widest of the fonts asked for."""


def dome_table(part: DomePart, layout: DomeLayout, *, units: str) -> str:
    """SVG of a row of numbers for each course, the highest first, and under them the notes.

    Parameters
    ----------
    units : ``SI`` for mm or ``US`` for inches.
    """
    unit = "inches" if units == "US" else "mm"
    says = [
        f"First: the head joint to begin at, anti-clockwise from above from {part.line_of_angles}.",
        f"Lengths in {unit}. Laid: without what openings take. Arm: from the pivot to the top inside edge of a block.",
        "Radii: of its bottom edges. Outside and inside: its edges as laid. Closing pieces: below.",
        "Set: the mould for tapered blocks (wedges/tapers/bed wedges), the saw for sawn ones: each end through the",
        "thickness, each end up the face, each bed. Even: what would leave joints of one width.",
    ]
    rows = [_crown_row(part, layout, units), *(_row(ring, units) for ring in reversed(layout.courses))]
    note_mm = next((mm for mm in _NOTES_MM[:-1] if mm * len(_notes(layout, mm)) < _UNDER_ROWS / 2), _NOTES_MM[-1])
    lines = _notes(layout, note_mm)
    row_mm = min(4.2, (_UNDER_ROWS - note_mm * (len(lines) + 2)) / len(rows))
    under = _TOP + _HEAD + row_mm * len(rows) + 4
    return page(
        f"Dome {part.name}: setting out, course by course",
        says,
        cells=[*_cells(rows, row_mm), *_lines(lines, under, note_mm)],
    )


def _cells(rows: Sequence[Sequence[str]], row_mm: float) -> Iterator[dict[str, Any]]:
    size = min(2.3, 0.8 * row_mm)
    for upper, lower, x in _COLUMNS:
        yield _cell(x, _TOP + 2, upper, 1.9, bold=True)
        yield _cell(x, _TOP + 4.6, lower, 1.9, bold=True)
    for number, row in enumerate(rows):
        for (_, _, x), text in zip(_COLUMNS, row, strict=True):
            yield _cell(x, _TOP + _HEAD + row_mm * (number + 0.5), text, size)


def _row(ring: Ring, units: str) -> tuple[str, ...]:
    def length(value_mm: float) -> str:
        return _number(value_mm, units)

    low, high = map(length, ring.head_joint_mm)
    inside, outside = map(length, ring.bed_joint_mm)
    return (
        str(ring.course),
        ring.setting.way.value,
        str(ring.laid),
        str(ring.count),
        f"{ring.begin_deg:.1f}",
        length(ring.height_mm),
        f"{ring.lean_deg:.1f}",
        length(ring.arm_mm),
        ring.arm_angle,
        length(ring.inside_radius_mm),
        length(ring.outside_radius_mm),
        *map(length, ring.edges),
        angles(ring.setting.set_deg),
        angles(ring.even_deg),
        low if low == high else f"{low}-{high}",
        f"{inside}, {outside}",
    )


def _crown_row(part: DomePart, layout: DomeLayout, units: str) -> tuple[str, ...]:
    """What closes the dome, as a row over the last course: one block, a plug cast in place, or an eye."""
    crown, made = layout.crown, part.crown == "block"
    arm_mm = crown.floor_mm - layout.pivot_mm
    known = {
        "course": str(len(layout.courses) + 1) if made else "crown",
        "way": {"block": "crown", "ring": "plug", "eye": "eye"}[part.crown],
        "blocks laid": str(int(made)),
        "full ring": str(int(made)),
        "lean deg": "90.0",
        "arm length": _number(abs(arm_mm), units),
        "arm deg": f"{math.copysign(90, arm_mm):.1f}",
        "radius inside": _number(crown.inside_radius_mm, units),
        "radius outside": _number(crown.outside_radius_mm, units),
        "head joints": _number(part.joint_mm, units) if made else "",
    }
    return tuple(known.get(f"{upper} {lower}".strip(), "") for upper, lower, _ in _COLUMNS)


def angles(degrees: Iterable[float]) -> str:
    """Through the thickness, up the face and of the beds; a dash for none."""
    listed = list(degrees)
    return "/".join(f"{angle:.1f}" for angle in listed) if any(listed) else "-"


def _notes(layout: DomeLayout, high: float) -> list[str]:
    """Lines of the notes, then of the closing pieces, each no longer than the page is wide."""
    characters = math.floor((PAGE_WIDTH - 4) / (_WIDE * _size(high)))
    said = [*layout.notes]
    for ring in layout.courses:
        if ring.closing:
            lengths = " / ".join(f"{edge:.0f}" for edge in ring.closing)
            said.append(
                f"Closing piece of course {ring.course}, from {math.degrees(ring.joints_rad[-1]) % 360:.1f} deg on:"
                f" outside bottom / top / inside bottom / top {lengths} mm."
            )
    return [
        line for one in said for line in textwrap.wrap(one, characters, initial_indent="- ", subsequent_indent="  ")
    ]


def _lines(lines: Sequence[str], top: float, high: float) -> Iterator[dict[str, Any]]:
    for number, text in enumerate(lines):
        yield _cell(2, top + high * (number + 1), text, _size(high), anchor="start")


def _size(high: float) -> float:
    """Of letters in lines so far apart."""
    return min(2.5, 0.8 * high)


def _cell(x: float, y: float, text: str, size: float, *, bold: bool = False, anchor: str = "end") -> dict[str, Any]:
    return {"x": min(x, PAGE_WIDTH - 1), "y": round(y, 2), "size": round(size, 2), "text": text, "bold": bold,
            "anchor": anchor}  # fmt: skip


def _number(length_mm: float, units: str) -> str:
    """A length without its unit: to a millimetre, or to a hundredth of an inch."""
    if units != "US":
        return f"{length_mm:.0f}"
    return f"{in_unit(length_mm, 'length', 'in'):.2f}"
