"""Pictures of a dome: its developed view with every block, and its section with pivot and compass arm."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun import units
from blockrun.order.domes import DomeLayout, DomePart, Ring
from blockrun.order.laid import Laid
from blockrun.show.pictures.drawn import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    Label,
    Line,
    Point,
    Word,
    extent,
    fills,
    middle_of,
    page,
    scale_bar,
)
from blockrun.show.pictures.paper import points

Placing = Callable[[Point], Point]
"""From mm of the dome to mm of the page."""
_TOP: Final = 23.0
_SIDE: Final = 186.0
"""Where the drawing starts below the title, and how wide it is, mm."""
_KEY_TOP: Final = 216.0
_SMALLEST: Final = 1.6
_LARGEST: Final = 2.4
"""Sizes of words in blocks, mm; the smallest is the least that still prints clearly (our choice)."""
_WIDE: Final = 0.62
"""Width of a character, as a share of its size."""
_OVERLAP: Final = 4.0


@dataclass(frozen=True)
class _Sheet:
    """A page of the developed view: scale, where the crown is on paper, and which quarter it shows (0 for all)."""

    scale: float
    crown: Point
    quarter: int

    def place(self, point: Point) -> Point:
        """A point, mm from the crown, on paper; azimuth 0 points down, azimuths go round anti-clockwise."""
        return self.crown[0] + self.scale * point[1], self.crown[1] + self.scale * point[0]


@dataclass(frozen=True)
class _Block:
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


def developed_view(
    part: DomePart, layout: DomeLayout, marks: Callable[[Laid], str], *, show_in: str = "SI"
) -> tuple[str, ...]:
    """The inside face of a dome laid flat from above, its crown in the middle, as one SVG page or as four quarters.

    Parameters
    ----------
    marks : the mark of a block.
    show_in : ``SI`` or ``US``, for the scale bar and the sizes in the key.

    Returns
    -------
    One page, or four where words would not fit into the blocks of one.
    """
    reach = max(math.hypot(*point) for block in layout.blocks for point in block.corners)
    named = [(block, marks(block)) for block in layout.blocks]
    whole = _Sheet(_SIDE / 2 / reach, (PAGE_WIDTH / 2, _TOP + _SIDE / 2), 0)
    if _room_for_words(named, whole):
        return (_developed_page(part, layout, named, whole, show_in),)
    return tuple(_developed_page(part, layout, named, _quarter(reach, number), show_in) for number in (1, 2, 3, 4))


def section_view(part: DomePart, layout: DomeLayout, *, show_in: str = "SI") -> str:
    """The section of a dome with its courses, the pivot and the compass arm, and a row of numbers for each course."""
    outside = max(point[0] for section in layout.sections for point in section.outline)
    height = max(point[1] for section in layout.sections for point in section.outline)
    low = min(0.0, layout.pivot_mm)
    rows_mm = min(4.0, 110.0 / (len(layout.courses) + 1))
    room = PAGE_HEIGHT - _TOP - 14 - rows_mm * (len(layout.courses) + 1)
    scale = min((_SIDE - 6) / (2 * outside), room / (height - low))
    floor = _TOP + scale * height

    def place(point: Point) -> Point:
        return PAGE_WIDTH / 2 + scale * point[0], floor - scale * point[1]

    shown = f"{_level(layout.pivot_mm, show_in)} above the floor" if layout.pivot_mm else "at the floor"
    says = [
        f"Pivot of the compass arm: on the axis, {shown}. Its tip is the middle of the top inside edge of a block.",
        "The angle of the arm is above the horizontal. Lean is how far the blocks lean in from upright.",
        "Saw angles leave joints of even width: ends through the thickness / ends up the face / beds."
        " Ties and lintels: a licensed engineer.",
    ]
    table_top = floor - scale * low + 13
    return page(
        f"Dome {part.name}: section and compass arm",
        says,
        fills=fills(2),
        blocks=[*_section_blocks(layout, place)],
        lines=[*_section_lines(part, layout, place, outside), *_crown_lines(part, layout, place)],
        overs=[*_arms(layout, place)],
        labels=[*_section_labels(part, layout, place, outside, show_in)],
        bar=scale_bar(4, floor - scale * low + 3, scale, show_in),
        cells=[*_cells(layout.courses, table_top, rows_mm, show_in)],
    )


def _quarter(reach: float, number: int) -> _Sheet:
    """Quarters 1 to 4 from azimuth 0 on, each with the crown in its corner."""
    left, top = (PAGE_WIDTH - _SIDE) / 2, _TOP
    corner_x = left + (_OVERLAP if number in (1, 2) else _SIDE - _OVERLAP)
    corner_y = top + (_OVERLAP if number in (1, 4) else _SIDE - _OVERLAP)
    return _Sheet((_SIDE - _OVERLAP) / reach, (corner_x, corner_y), number)


def _developed_page(
    part: DomePart, layout: DomeLayout, named: Sequence[tuple[Laid, str]], sheet: _Sheet, show_in: str
) -> str:
    kinds = sorted(
        {mark for _, mark in named}, key=lambda mark: min(block.course for block, one in named if one == mark)
    )
    of = {mark: fill for mark, fill in zip(kinds, fills(len(kinds)), strict=True)}
    which = f", quarter {sheet.quarter} of 4" if sheet.quarter else ""
    says = [
        "The inside face laid flat, seen from above and outside. From the crown outward it is to scale; round the dome"
        " it is stretched.",
        "In each block its mark, with * where it is sawn (dashed outline), and its course under it.",
    ]
    if sheet.quarter:
        angles = f"{90 * (sheet.quarter - 1)} to {90 * sheet.quarter} deg"
        says.append(f"This quarter goes from {angles}, anti-clockwise from the middle of the first opening.")
    inside = [(block, mark) for block, mark in named if _on_paper(block, sheet)]
    return page(
        f"Dome {part.name}: developed view{which}",
        says,
        fills=of.values(),
        window={"x": (PAGE_WIDTH - _SIDE) / 2 - 1, "y": _TOP - 1, "width": _SIDE + 2, "height": _SIDE + 2},
        blocks=[_block(block, mark, of[mark].id, sheet) for block, mark in inside],
        overs=[_opening(outline, sheet) for _, outline in layout.openings],
        labels=[*_opening_labels(layout, sheet)],
        bar=scale_bar(4, _TOP + _SIDE - 7 if sheet.quarter == 0 else _KEY_TOP - 7, sheet.scale, show_in),
        keys=[*_keys(named, kinds, {mark: fill.id for mark, fill in of.items()}, show_in)],
    )


def _on_paper(block: Laid, sheet: _Sheet) -> bool:
    """Whether any of a block is in the window of the sheet."""
    left, top = (PAGE_WIDTH - _SIDE) / 2 - 1, _TOP - 1
    outline = [sheet.place(point) for point in block.corners]
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return max(xs) > left and min(xs) < left + _SIDE + 2 and max(ys) > top and min(ys) < top + _SIDE + 2


def _room_for_words(named: Sequence[tuple[Laid, str]], sheet: _Sheet) -> bool:
    """Whether all but a tenth of the blocks that are not cut take two lines of words."""
    whole = [_block(block, mark, "", sheet) for block, mark in named if not block.cut]
    return sum(len(block.words) < 2 for block in whole) <= len(whole) / 10


def _block(block: Laid, mark: str, fill: str, sheet: _Sheet) -> _Block:
    outline = [sheet.place(point) for point in block.corners]
    x, y = middle_of(outline)
    azimuth = math.atan2(x - sheet.crown[0], y - sheet.crown[1])
    turn = -azimuth if math.cos(azimuth) >= 0 else math.pi - azimuth
    text = f"{mark}*" if block.cut else mark
    size, words = _words(text, str(block.course), extent(outline, turn))
    cut = f", {block.cut}" if block.cut else ""
    role = f", {block.role.value}" if block.role.value else ""
    return _Block(
        f"{mark}, course {block.course}{role}{cut}",
        points(outline),
        fill,
        bool(block.cut),
        round(x, 2),
        round(y, 2),
        round(math.degrees(turn), 1),
        size,
        words,
    )


def _words(mark: str, course: str, room: tuple[float, float]) -> tuple[float, tuple[Word, ...]]:
    """Mark and course in a block, as large as fits: two lines, else the mark alone, else nothing."""
    wide, high = room
    across = 0.92 * wide / (_WIDE * max(len(mark), len(course)))
    two = min(_LARGEST, across, high / 2.5)
    if two >= _SMALLEST:
        return round(two, 2), (Word(round(-0.15 * two, 2), mark), Word(round(0.95 * two, 2), course))
    one = min(_LARGEST, 0.92 * wide / (_WIDE * len(mark)), high / 1.3)
    if one >= _SMALLEST:
        return round(one, 2), (Word(round(0.35 * one, 2), mark),)
    return 0.0, ()


def _opening(outline: Sequence[Point], sheet: _Sheet) -> Line:
    corners = [sheet.place(point) for point in outline]
    return Line(points([*corners, corners[0]]), width=0.5)


def _opening_labels(layout: DomeLayout, sheet: _Sheet) -> Iterator[Label]:
    for name, outline in layout.openings:
        x, y = middle_of([sheet.place(point) for point in outline])
        yield Label(round(x, 2), round(y, 2), name, 3.2, bold=True)


def _keys(
    named: Sequence[tuple[Laid, str]], kinds: Sequence[str], fill_of: Mapping[str, str], show_in: str
) -> Iterator[dict[str, object]]:
    """A swatch and a line for each mark: size, leans, courses, count."""
    counts = Counter(mark for _, mark in named)
    columns = 3 if len(kinds) <= 18 else 4
    high = min(6.4, (PAGE_HEIGHT - _KEY_TOP) / math.ceil(len(kinds) / columns))
    for number, mark in enumerate(kinds):
        row, column = divmod(number, columns)
        blocks = [block for block, one in named if one == mark]
        shape = blocks[0].shape
        size = units.show_size(shape.length_mm, shape.height_mm, shape.thickness_mm, show_in)
        courses = sorted({block.course for block in blocks})
        span = f"course {courses[0]}" if len(courses) == 1 else f"courses {courses[0]}-{courses[-1]}"
        yield {
            "x": round(2 + column * PAGE_WIDTH / columns, 2),
            "y": round(_KEY_TOP + row * high, 2),
            "fill": fill_of[mark],
            "mark": f"{mark}: {counts[mark]} {'block' if counts[mark] == 1 else 'blocks'}, {span}",
            "words": size + _leans((shape.bevel_deg, shape.taper_deg, shape.bed_deg)),
        }


def _leans(angles: tuple[float, float, float]) -> str:
    if not any(angles):
        return ""
    return "; leans " + " / ".join(units.digits(angle) for angle in angles) + " deg"


def _section_blocks(layout: DomeLayout, place: Placing) -> Iterator[_Block]:
    for section in layout.sections:
        for side in (1, -1):
            outline = [place((side * radius, level)) for radius, level in section.outline]
            x, y = middle_of(outline)
            size, words = _words(str(section.course), "", extent(outline, 0.0))
            yield _Block(
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


def _section_labels(
    part: DomePart, layout: DomeLayout, place: Placing, outside: float, show_in: str
) -> Iterator[Label]:
    ring = _shown_arm(layout.courses)
    (x, y), tip = place((0.0, layout.pivot_mm)), place(_tip(ring, layout.pivot_mm))
    yield Label(round(x - 3, 2), round(y - 1.5, 2), "pivot", 3.0, "end", bold=True)
    words = f"arm of course {ring.course}: {_level(ring.arm_mm, show_in)} at {ring.arm_deg:.1f} deg"
    yield Label(round((x + tip[0]) / 2, 2), round((y + tip[1]) / 2 - 1.5, 2), words, 2.8)
    if part.stem_mm and abs(part.stem_mm - layout.pivot_mm) > 1:
        x, y = place((-part.radius_mm, part.stem_mm))
        yield Label(round(x + 2, 2), round(y - 1, 2), "springing", 2.6, "start")
    x, y = place((0.0, 0.0))
    wide = _level(part.inside_diameter_mm, show_in)
    yield Label(round(x, 2), round(y + 4.2, 2), f"floor; inside diameter {wide}", 2.6)


_COLUMNS: Final = (
    ("course", 14), ("blocks", 28), ("way", 43), ("lean, deg", 60), ("arm", 79), ("arm, deg", 95),
    ("inside radius", 114), ("head joints", 140), ("bed outside", 160), ("saw angles, deg", 188),
)  # fmt: skip


def _cells(rings: Sequence[Ring], top: float, high: float, show_in: str) -> Iterator[dict[str, object]]:
    """A row of numbers for each course, the highest first, as it stands in the drawing."""
    size = min(2.6, 0.78 * high)
    for name, x in _COLUMNS:
        yield {"x": x, "y": round(top, 2), "size": size, "text": name, "bold": True, "anchor": "end"}
    for row, ring in enumerate(reversed(rings), 1):
        for (_, x), text in zip(_COLUMNS, _row(ring, show_in), strict=True):
            yield {"x": x, "y": round(top + row * high, 2), "size": size, "text": text, "bold": False, "anchor": "end"}


def _row(ring: Ring, show_in: str) -> tuple[str, ...]:
    low, high = (_level(width, show_in) for width in ring.head_joint_mm)
    return (
        str(ring.course),
        str(ring.count),
        ring.setting.way.value,
        f"{ring.lean_deg:.1f}",
        _level(ring.arm_mm, show_in),
        f"{ring.arm_deg:.1f}",
        _level(ring.inside_radius_mm, show_in),
        low if low == high else f"{low.rpartition(' ')[0]} - {high}",
        _level(ring.bed_joint_mm[1], show_in),
        f"{ring.bevel_deg:.1f} / {ring.taper_deg:.1f} / {ring.bed_deg:.1f}",
    )


def _level(length_mm: float, show_in: str) -> str:
    """A length to a millimetre, or to a sixteenth of an inch."""
    step = 25.4 / 16 if show_in == "US" else 1.0
    return units.show(round(length_mm / step) * step, "length", show_in)
