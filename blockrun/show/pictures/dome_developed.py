"""The developed view of a dome: blocks with mark and course, on one page or in quarters, enlarged where too small."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.order.domes import DomeLayout, DomePart
from blockrun.order.domes.clip import area
from blockrun.order.laid import Laid
from blockrun.show.pictures.drawn import (
    PAGE_HEIGHT,
    PAGE_WIDTH,
    SIDE,
    SMALLEST,
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
from blockrun.show.pictures.paper import points, sides_said
from blockrun.show.piece_numbers import piece_numbers
from blockrun.units import digits

_KEY_TOP: Final = 216.0
_OVERLAP: Final = 4.0
_KEY_LETTERS: Final = 44
"""Of the words of a key, with three keys side by side."""
_LETTER: Final = 0.68
"""Room a letter takes along a line, as a share of its size."""


Named = tuple[Laid, str, str]
"""A block, its mark, and the number of its cut, which is empty where it is laid as cast."""


@dataclass(frozen=True)
class _Sheet:
    """A page of the developed view: scale, where the crown is on paper, what the page is called and says of itself."""

    scale: float
    crown: Point
    name: str = ""
    says: str = ""

    def place(self, point: Point) -> Point:
        """A point, mm from the crown, on paper; azimuth 0 points down, azimuths go round anti-clockwise."""
        return self.crown[0] + self.scale * point[1], self.crown[1] + self.scale * point[0]


def developed_view(part: DomePart, layout: DomeLayout, marks: Callable[[Laid], str], *, units: str) -> tuple[str, ...]:
    """The inside face of a dome laid flat from above, its crown in the middle, as SVG pages.

    Returns
    -------
    One page, or four quarters where words would not fit into the blocks of one; then enlarged details of the crown
    and of openings, until every block has its mark or the number of its cut, or one like it in its course has.
    """
    reach = max(math.hypot(*point) for block in layout.blocks for point in block.corners)
    numbers = piece_numbers((block.course, marks(block), block.cut) for block in layout.blocks)
    named = [(block, marks(block), numbers.get((marks(block), block.cut), "")) for block in layout.blocks]
    sheets = [_Sheet(SIDE / 2 / reach, (PAGE_WIDTH / 2, TOP + SIDE / 2))]
    if not _room_for_words(named, sheets[0]):
        sheets = [_quarter(part, reach, number) for number in (1, 2, 3, 4)]
    sheets += _details(layout, _nameless(named, sheets))
    return tuple(_developed_page(part, layout, named, sheet, units) for sheet in sheets)


def _quarter(part: DomePart, reach: float, number: int) -> _Sheet:
    """Quarters 1 to 4 from azimuth 0 on, each with the crown in its corner."""
    left, top = (PAGE_WIDTH - SIDE) / 2, TOP
    corner_x = left + (_OVERLAP if number in (1, 2) else SIDE - _OVERLAP)
    corner_y = top + (_OVERLAP if number in (1, 4) else SIDE - _OVERLAP)
    angles = f"{90 * (number - 1)} to {90 * number} deg"
    says = f"This quarter goes from {angles}, anti-clockwise from {part.line_of_angles}."
    return _Sheet((SIDE - _OVERLAP) / reach, (corner_x, corner_y), f", quarter {number} of 4", says)


def _details(layout: DomeLayout, nameless: Sequence[Named]) -> Iterator[_Sheet]:
    """Enlarged views, from the crown down, until no block is without its mark."""
    centres = {"crown": (0.0, 0.0), **{name: middle_of(outline) for name, outline in layout.openings}}
    left = sorted(nameless, key=lambda one: -one[0].course)
    while left:
        middle, scale = middle_of(left[0][0].corners), _scale_for(left[0])
        name, centre = min(centres.items(), key=lambda item: math.dist(item[1], middle))
        if scale * max(abs(x - y) for x, y in zip(centre, middle, strict=True)) > SIDE / 2 - 2 * _OVERLAP:
            name, centre = f"course {left[0][0].course}", middle
        crown = (PAGE_WIDTH / 2 - scale * centre[1], TOP + SIDE / 2 - scale * centre[0])
        sheet = _Sheet(scale, crown, f", detail: {name}", "Enlarged: what is too small on the view of all.")
        yield sheet
        left = _nameless(left[1:], [sheet])


def _nameless(named: Sequence[Named], sheets: Sequence[_Sheet]) -> list[Named]:
    """Blocks that have no mark on any of the sheets, nor has one like it in its course."""
    known = {(*one[1:], one[0].course, one[0].cut) for one in named for sheet in sheets if _is_named(one, sheet)}
    return [one for one in named if (*one[1:], one[0].course, one[0].cut) not in known]


def _scale_for(one: Named) -> float:
    """The scale at which a block takes its mark and its course."""
    block, mark, _ = one
    wide, high = _room([(y, x) for x, y in block.corners], _turn(middle_of(block.corners)))
    return 1.05 * max(SMALLEST * _LETTER * (len(mark) + 1) / wide, 2.5 * SMALLEST / high)


def _is_named(one: Named, sheet: _Sheet) -> bool:
    """Whether a block has its mark on a sheet, where the edge of the sheet does not cut it."""
    block = _block(one, "", sheet)
    edge = (PAGE_WIDTH - SIDE) / 2
    across = min(block.x - edge, edge + SIDE - block.x)
    return bool(block.words) and min(across, block.y - TOP, TOP + SIDE - block.y) > _OVERLAP - 0.5


def _developed_page(part: DomePart, layout: DomeLayout, named: Sequence[Named], sheet: _Sheet, units: str) -> str:
    kinds = sorted(
        {mark for _, mark, _ in named}, key=lambda mark: min(block.course for block, one, _ in named if one == mark)
    )
    of = {mark: fill for mark, fill in zip(kinds, fills(len(kinds)), strict=True)}
    says = [
        "The inside face laid flat, seen from above and outside. From the crown outward it is to scale; round the dome"
        " it is stretched.",
        "In each block its mark, with * where it is sawn (dashed outline), its course, and its cut as in the take-off.",
        sheet.says,
    ]
    inside = [one for one in named if _on_paper(one[0], sheet)]
    return page(
        f"Dome {part.name}: laid flat{sheet.name}",
        says,
        fills=of.values(),
        window={"x": (PAGE_WIDTH - SIDE) / 2 - 1, "y": TOP - 1, "width": SIDE + 2, "height": SIDE + 2},
        blocks=[_block(one, of[one[1]].id, sheet) for one in inside],
        overs=[_opening(outline, sheet) for _, outline in layout.openings],
        labels=[*_opening_labels(layout, sheet)],
        bar=scale_bar(4, _KEY_TOP - 7 if sheet.name else TOP + SIDE - 7, sheet.scale, units),
        keys=[*_keys(named, kinds, {mark: fill.id for mark, fill in of.items()}, units)],
    )


def _on_paper(block: Laid, sheet: _Sheet) -> bool:
    """Whether any of a block is in the window of the sheet."""
    left, top = (PAGE_WIDTH - SIDE) / 2 - 1, TOP - 1
    outline = [sheet.place(point) for point in block.corners]
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return max(xs) > left and min(xs) < left + SIDE + 2 and max(ys) > top and min(ys) < top + SIDE + 2


def _room_for_words(named: Sequence[Named], sheet: _Sheet) -> bool:
    """Whether all but a tenth of the blocks that are not cut take two lines of words."""
    whole = [_block(one, "", sheet) for one in named if not one[0].cut]
    return sum(len(block.words) < 2 for block in whole) <= len(whole) / 10


def _block(one: Named, fill: str, sheet: _Sheet) -> Block:
    block, mark, number = one
    outline = [sheet.place(point) for point in block.corners]
    x, y = middle_of(outline)
    turn = _turn((y - sheet.crown[1], x - sheet.crown[0]))
    text = f"{mark}*" if block.cut else mark
    size, words = words_in(text, f"{block.course} {number}".strip(), _room(outline, turn), number)
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


def _turn(from_crown: Point) -> float:
    """How words are turned in a block there, so that they run round the dome and are never upside down."""
    azimuth = math.atan2(from_crown[1], from_crown[0])
    return -azimuth if math.cos(azimuth) >= 0 else math.pi - azimuth


def _room(outline: Sequence[Point], turn_rad: float) -> tuple[float, float]:
    """Mean width, as blocks narrow, and height of an outline for words turned by an angle."""
    _, high = extent(outline, turn_rad)
    return abs(area(outline)) / high, high


def _opening(outline: Sequence[Point], sheet: _Sheet) -> Line:
    corners = [sheet.place(point) for point in outline]
    return Line(points([*corners, corners[0]]), width=0.5)


def _opening_labels(layout: DomeLayout, sheet: _Sheet) -> Iterator[Label]:
    for name, outline in layout.openings:
        x, y = middle_of([sheet.place(point) for point in outline])
        yield Label(round(x, 2), round(y, 2), name, 3.2, bold=True)


def _keys(
    named: Sequence[Named], kinds: Sequence[str], fill_of: Mapping[str, str], units: str
) -> Iterator[dict[str, object]]:
    """A swatch and a line for each mark: size, what is set into its mould, courses, count."""
    counts = Counter(mark for _, mark, _ in named)
    said = {mark: _key_words([block for block, one, _ in named if one == mark], units) for mark in kinds}
    narrow = max(len(words) for _, words in said.values()) <= _KEY_LETTERS
    columns = 4 if len(kinds) > 18 else 3 if narrow or len(kinds) > 12 else 2
    high = min(6.4, (PAGE_HEIGHT - _KEY_TOP) / math.ceil(len(kinds) / columns))
    for number, mark in enumerate(kinds):
        row, column = divmod(number, columns)
        courses, words = said[mark]
        yield {
            "x": round(2 + column * PAGE_WIDTH / columns, 2),
            "y": round(_KEY_TOP + row * high, 2),
            "fill": fill_of[mark],
            "mark": f"{mark}: {counts[mark]} {'block' if counts[mark] == 1 else 'blocks'}, {courses}",
            "words": words,
        }


def _key_words(blocks: Sequence[Laid], units: str) -> tuple[str, str]:
    """Courses of the blocks of a mark, and their size with what is set into their mould."""
    shape = blocks[0].shape
    courses = sorted({block.course for block in blocks})
    span = f"course {courses[0]}" if len(courses) == 1 else f"courses {courses[0]}-{courses[-1]}"
    return span, sides_said(shape, units) + _leans((shape.bevel_deg, shape.taper_deg, shape.bed_deg))


def _leans(angles: tuple[float, float, float]) -> str:
    named = zip(("wedges", "tapers", "bed wedges"), angles, strict=True)
    said = ", ".join(f"{name} {digits(angle)}" for name, angle in named if angle)
    return f"; {said} deg" if said else ""
