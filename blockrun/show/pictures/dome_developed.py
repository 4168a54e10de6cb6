"""The developed view of a dome: every block with its mark and course, on one page or in quarters."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun import units
from blockrun.order.domes import DomeLayout, DomePart
from blockrun.order.laid import Laid
from blockrun.show.pictures.drawn import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    SIDE,
    TOP,
    Block,
    Label,
    Line,
    Point,
    extent,
    fills,
    middle_of,
    page,
    scale_bar,
    words_in,
)
from blockrun.show.pictures.paper import points

_KEY_TOP: Final = 216.0
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
    whole = _Sheet(SIDE / 2 / reach, (PAGE_WIDTH / 2, TOP + SIDE / 2), 0)
    if _room_for_words(named, whole):
        return (_developed_page(part, layout, named, whole, show_in),)
    return tuple(_developed_page(part, layout, named, _quarter(reach, number), show_in) for number in (1, 2, 3, 4))


def _quarter(reach: float, number: int) -> _Sheet:
    """Quarters 1 to 4 from azimuth 0 on, each with the crown in its corner."""
    left, top = (PAGE_WIDTH - SIDE) / 2, TOP
    corner_x = left + (_OVERLAP if number in (1, 2) else SIDE - _OVERLAP)
    corner_y = top + (_OVERLAP if number in (1, 4) else SIDE - _OVERLAP)
    return _Sheet((SIDE - _OVERLAP) / reach, (corner_x, corner_y), number)


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
        window={"x": (PAGE_WIDTH - SIDE) / 2 - 1, "y": TOP - 1, "width": SIDE + 2, "height": SIDE + 2},
        blocks=[_block(block, mark, of[mark].id, sheet) for block, mark in inside],
        overs=[_opening(outline, sheet) for _, outline in layout.openings],
        labels=[*_opening_labels(layout, sheet)],
        bar=scale_bar(4, TOP + SIDE - 7 if sheet.quarter == 0 else _KEY_TOP - 7, sheet.scale, show_in),
        keys=[*_keys(named, kinds, {mark: fill.id for mark, fill in of.items()}, show_in)],
    )


def _on_paper(block: Laid, sheet: _Sheet) -> bool:
    """Whether any of a block is in the window of the sheet."""
    left, top = (PAGE_WIDTH - SIDE) / 2 - 1, TOP - 1
    outline = [sheet.place(point) for point in block.corners]
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return max(xs) > left and min(xs) < left + SIDE + 2 and max(ys) > top and min(ys) < top + SIDE + 2


def _room_for_words(named: Sequence[tuple[Laid, str]], sheet: _Sheet) -> bool:
    """Whether all but a tenth of the blocks that are not cut take two lines of words."""
    whole = [_block(block, mark, "", sheet) for block, mark in named if not block.cut]
    return sum(len(block.words) < 2 for block in whole) <= len(whole) / 10


def _block(block: Laid, mark: str, fill: str, sheet: _Sheet) -> Block:
    outline = [sheet.place(point) for point in block.corners]
    x, y = middle_of(outline)
    azimuth = math.atan2(x - sheet.crown[0], y - sheet.crown[1])
    turn = -azimuth if math.cos(azimuth) >= 0 else math.pi - azimuth
    text = f"{mark}*" if block.cut else mark
    size, words = words_in(text, str(block.course), extent(outline, turn))
    cut = f", {block.cut}" if block.cut else ""
    role = f", {block.role.value}" if block.role.value else ""
    return Block(
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
    named = zip(("wedges", "tapers", "bed wedges"), angles, strict=True)
    said = ", ".join(f"{name} of {units.digits(angle)} deg" for name, angle in named if angle)
    return f"; {said}" if said else ""
