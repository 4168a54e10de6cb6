"""The section of a dome: its courses, the pivot and the compass arm, and a row of numbers for each course."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from blockrun.order.domes import DomeLayout, DomePart, Ring
from blockrun.show.pictures.dome_table import angles
from blockrun.show.pictures.drawn import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    SIDE,
    TOP,
    Block,
    Label,
    Line,
    Point,
    Word,
    extent,
    fills,
    middle_of,
    page,
    scale_bar,
    words_in,
)
from blockrun.show.pictures.paper import points
from blockrun.show.tape import size_on_tape

Placing = Callable[[Point], Point]
"""From mm of the dome to mm of the page."""


def section_view(part: DomePart, layout: DomeLayout, *, units: str) -> str:
    """The section of a dome with its courses, the pivot and the compass arm, and a row of numbers for each course."""
    outside = max(point[0] for section in layout.sections for point in section.outline)
    height = max(point[1] for section in layout.sections for point in section.outline)
    low = min(0.0, layout.pivot_mm)
    rows = [*_crown_row(part, layout, units), *(_row(ring, units) for ring in reversed(layout.courses))]
    rows_mm = min(4.0, 110.0 / (len(rows) + 1))
    room = PAGE_HEIGHT - TOP - 14 - rows_mm * (len(rows) + 1)
    scale = min((SIDE - 6) / (2 * outside), room / (height - low))
    floor = TOP + scale * height

    def place(point: Point) -> Point:
        return PAGE_WIDTH / 2 + scale * point[0], floor - scale * point[1]

    shown = f"{_level(layout.pivot_mm, units)} above the floor" if layout.pivot_mm else "at the floor"
    says = [
        f"Pivot of the compass arm: on the axis, {shown}. Its tip is the middle of the top inside edge of a block.",
        "The angle of the arm is above the horizontal. Lean is how far the blocks lean in from upright.",
        "Laid: without what openings take. Set: mould or saw, ends through the thickness/ends up the face/beds.",
    ]
    table_top = floor - scale * low + 13
    return page(
        f"Dome {part.name}: section and compass arm",
        says,
        fills=fills(2),
        blocks=[*_section_blocks(layout, place)],
        lines=[*_section_lines(part, layout, place, outside), *_crown_lines(part, layout, place)],
        overs=[*_arms(layout, place)],
        labels=[*_section_labels(part, layout, place, outside, units)],
        bar=scale_bar(4, floor - scale * low + 3, scale, units),
        cells=[*_cells(rows, table_top, rows_mm)],
    )


def _section_blocks(layout: DomeLayout, place: Placing) -> Iterator[Block]:
    for section in layout.sections:
        for side in (1, -1):
            outline = [place((side * radius, level)) for radius, level in section.outline]
            x, y = middle_of(outline)
            size, words = words_in(str(section.course), "", extent(outline, 0.0))
            yield Block(
                f"course {section.course}", points(outline), "f0" if section.course % 2 else "f1", False,
                round(x, 2), round(y, 2), 0.0, size, tuple(Word(round(0.35 * size, 2), w.text) for w in words[:1]),
            )  # fmt: skip


def _crown_lines(part: DomePart, layout: DomeLayout, place: Placing) -> Iterator[Line]:
    """The crown block, or the plug dashed; an eye stays open."""
    crown = layout.crown
    if part.crown == "eye":
        return
    low, high = crown.floor_mm, crown.floor_mm + part.thickness_mm
    inner, outer = crown.inside_radius_mm, crown.outside_radius_mm
    corners = [(-inner, low), (inner, low), (outer, high), (-outer, high), (-inner, low)]
    plug = part.crown == "ring"
    yield Line(
        points([place(point) for point in corners]), "#fff" if plug else "url(#f1)", dashes="1 0.6" if plug else ""
    )


def _section_lines(part: DomePart, layout: DomeLayout, place: Placing, outside: float) -> Iterator[Line]:
    """The floor, the springing and the axis."""
    top = max(point[1] for section in layout.sections for point in section.outline)
    low = min(0.0, layout.pivot_mm)
    yield Line(points([place((-outside, 0.0)), place((outside, 0.0))]), width=0.5)
    yield Line(points([place((0.0, low)), place((0.0, top))]), stroke="#444", dashes="4 1 1 1")
    if part.stem_mm:
        ends = (-part.radius_mm, part.stem_mm), (part.radius_mm, part.stem_mm)
        yield Line(points([place(point) for point in ends]), stroke="#444", dashes="2 1")


def _arms(layout: DomeLayout, place: Placing) -> Iterator[Line]:
    """The arm for each course thin, for the first of the curve bold; a cross and a ring at the pivot."""
    pivot = place((0.0, layout.pivot_mm))
    bold = _shown_arm(layout.courses)
    for ring in layout.courses:
        tip = _tip(ring, layout.pivot_mm)
        width, stroke = (0.6, "#000") if ring is bold else (0.12, "#777")
        yield Line(points([pivot, place(tip)]), stroke=stroke, width=width)
    x, y = pivot
    yield Line(points([(x - 2.5, y), (x + 2.5, y)]), width=0.4)
    yield Line(points([(x, y - 2.5), (x, y + 2.5)]), width=0.4)
    ring_points = [
        (x + 1.3 * math.cos(turn / 8 * math.pi), y + 1.3 * math.sin(turn / 8 * math.pi)) for turn in range(17)
    ]
    yield Line(points(ring_points), width=0.4)


def _shown_arm(rings: Sequence[Ring]) -> Ring:
    """The course whose arm is drawn bold: one in the middle of the curve."""
    curved = [ring for ring in rings if not ring.stem]
    return curved[len(curved) // 3]


def _tip(ring: Ring, pivot_mm: float) -> Point:
    angle = math.radians(ring.arm_deg)
    return ring.arm_mm * math.cos(angle), pivot_mm + ring.arm_mm * math.sin(angle)


def _section_labels(part: DomePart, layout: DomeLayout, place: Placing, outside: float, units: str) -> Iterator[Label]:
    ring = _shown_arm(layout.courses)
    (x, y), tip = place((0.0, layout.pivot_mm)), place(_tip(ring, layout.pivot_mm))
    yield Label(round(x - 3, 2), round(y - 1.5, 2), "pivot", 3.0, "end", bold=True)
    words = f"bold: arm of course {ring.course}, {_level(ring.arm_mm, units)} at {ring.arm_angle} deg"
    # in the other half of the dome there are no arms to cross it
    yield Label(round(x - 3, 2), round((y + tip[1]) / 2 - 1.5, 2), words, 2.8, "end")
    if part.stem_mm and abs(part.stem_mm - layout.pivot_mm) > 1:
        x, y = place((-part.radius_mm, part.stem_mm))
        yield Label(round(x + 2, 2), round(y - 1, 2), "springing", 2.6, "start")
    x, y = place((0.0, 0.0))
    wide = _level(part.inside_diameter_mm, units)
    yield Label(round(x, 2), round(y + 4.2, 2), f"floor; inside diameter {wide}", 2.6)


_COLUMNS: Final = (
    ("course", 13), ("laid", 23), ("full ring", 37), ("way", 51), ("lean, deg", 67), ("arm", 83), ("arm, deg", 98),
    ("inside radius", 119), ("head joints", 143), ("bed outside", 163), ("set, deg", 188),
)  # fmt: skip


def _cells(rows: Sequence[Sequence[str]], top: float, high: float) -> Iterator[dict[str, object]]:
    """A row of numbers for each course, the highest first, as it stands in the drawing."""
    size = min(2.6, 0.78 * high)
    for name, x in _COLUMNS:
        yield {"x": x, "y": round(top, 2), "size": size, "text": name, "bold": True, "anchor": "end"}
    for row, texts in enumerate(rows, 1):
        for (_, x), text in zip(_COLUMNS, texts, strict=True):
            yield {"x": x, "y": round(top + row * high, 2), "size": size, "text": text, "bold": False, "anchor": "end"}


def _crown_row(part: DomePart, layout: DomeLayout, units: str) -> Iterator[tuple[str, ...]]:
    """The crown block, which is the last course; a plug or an eye is none."""
    if part.crown != "block":
        return
    arm_mm = layout.crown.floor_mm - layout.pivot_mm
    yield (
        str(len(layout.courses) + 1),
        "1",
        "1",
        "crown",
        "90.0",
        _level(abs(arm_mm), units),
        f"{math.copysign(90, arm_mm):.1f}",
        _level(layout.crown.inside_radius_mm, units),
        _level(part.joint_mm, units),
        "",
        "",
    )


def _row(ring: Ring, units: str) -> tuple[str, ...]:
    low, high = (_level(width, units) for width in ring.head_joint_mm)
    return (
        str(ring.course),
        str(ring.laid),
        str(ring.count),
        ring.setting.way.value,
        f"{ring.lean_deg:.1f}",
        _level(ring.arm_mm, units),
        ring.arm_angle,
        _level(ring.inside_radius_mm, units),
        low if low == high else f"{low.rpartition(' ')[0]} - {high}",
        _level(ring.bed_joint_mm[1], units),
        angles(ring.setting.set_deg),
    )


def _level(length_mm: float, units: str) -> str:
    """A length to a millimetre, or to a sixteenth of an inch."""
    return size_on_tape(units, length_mm)
