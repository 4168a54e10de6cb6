"""An elevation of one run of a wall, every block with its mark, for the people who lay it."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from blockrun import units
from blockrun.order.laid import Laid, Point
from blockrun.order.walls import Face, WallLayout
from blockrun.show.pictures.paper import (
    HEIGHT_MM,
    SCALES,
    WIDTH_MM,
    Kind,
    kind_of,
    letters_mm,
    level_mm,
    points,
    render,
)

_LEFT: Final = 14.0
_RIGHT: Final = 14.0
_TOP: Final = 12.0
_FOOT: Final = 12.0
_UNDER: Final = 13.0
"""Room below each strip for its dimensions."""
_GAP: Final = 3.0
_LEAST_LETTERS: Final = 1.3
"""Height of letters on half a block below which a run is spread over more sheets, in mm."""
_OVER_MM: Final = 300.0
"""What two strips of one run show both, in mm of the wall."""


@dataclass(frozen=True)
class _Strip:
    """A part of a run on paper: from where to where, the scale, and the place of its lower left corner."""

    left_mm: float
    right_mm: float
    scale: int
    floor: float

    def x(self, along_mm: float) -> float:
        """Across the sheet."""
        return _LEFT + (along_mm - self.left_mm) / self.scale

    def y(self, up_mm: float) -> float:
        """Down the sheet."""
        return self.floor - up_mm / self.scale

    def shape(self, corners: Sequence[Point]) -> list[Point]:
        """Corners on the sheet."""
        return [(self.x(along), self.y(up)) for along, up in corners]

    def shows(self, corners: Sequence[Point]) -> bool:
        """Whether any of a shape is in it."""
        ends = [along for along, _ in corners]
        return max(ends) > self.left_mm and min(ends) < self.right_mm


def wall_pictures(
    layout: WallLayout, face: Face, marks: Callable[[Laid], str], title: str, *, show_in: str = "SI"
) -> list[str]:
    """Sheets of one face, as `wall_picture` draws it; more than one where its marks would be too small to read."""
    blocks = [block for block in layout.blocks if block.face == face.number]
    most = next(scale for scale in reversed(SCALES) if scale <= _coarsest(blocks))
    strips = _strips(face, _peak(face, blocks))
    if strips[0].scale <= most:
        return [wall_picture(layout, face, marks, title, show_in=show_in)]
    room, each = (WIDTH_MM - _LEFT - _RIGHT) * most, _peak(face, blocks) / most + _UNDER + _GAP
    a_sheet = max(1, int((HEIGHT_MM - _TOP - _FOOT) / each))
    n_sheets = math.ceil(_cut(face.right_mm - face.left_mm, room)[0] / a_sheet)
    length = (face.right_mm - face.left_mm - _OVER_MM) / n_sheets
    starts = [face.left_mm + sheet * length for sheet in range(n_sheets)]
    return [
        _sheet(layout, face, marks, f"{title}, sheet {n} of {n_sheets}", show_in, (start, start + length + _OVER_MM))
        for n, start in enumerate(starts, 1)
    ]


def _coarsest(blocks: Sequence[Laid]) -> float:
    """Scale at which the mark of half a block is still read."""
    length = max(block.shape.length_mm for block in blocks) / 2
    height = max(block.shape.height_mm for block in blocks)
    letters = ((scale, letters_mm("W600", length / scale, height / scale)[0]) for scale in reversed(SCALES))
    return next((scale for scale, size in letters if size >= _LEAST_LETTERS), SCALES[0])


def _peak(face: Face, blocks: Sequence[Laid]) -> float:
    return max([up for _, up in face.line] + [up for block in blocks for _, up in block.corners])


def wall_picture(
    layout: WallLayout, face: Face, marks: Callable[[Laid], str], title: str, *, show_in: str = "SI"
) -> str:
    """SVG of one face of a wall as seen from outside, or of a pier from inside, on one sheet.

    Parameters
    ----------
    layout, face : the wall, and which of its faces.
    marks : what a block is called.
    title : of the picture.
    show_in : ``SI`` or ``US``, for dimensions.

    Returns
    -------
    A sheet that prints at its scale on A4 and on Letter; a long run goes on in strips below one another.
    """
    return _sheet(layout, face, marks, title, show_in, (face.left_mm, face.right_mm))


def _sheet(
    layout: WallLayout,
    face: Face,
    marks: Callable[[Laid], str],
    title: str,
    show_in: str,
    window_mm: tuple[float, float],
) -> str:
    """A sheet with what of a face lies in a window of it."""
    everything = [block for block in layout.blocks if block.face == face.number]
    peak = _peak(face, everything)
    strips = _strips(face, peak, window_mm)
    blocks = [block for block in everything if any(strip.shows(block.corners) for strip in strips)]
    kinds = Counter(kind_of(block) for block in blocks)
    floor = max(strip.floor for strip in strips) + _UNDER
    return render(
        "wall.svg.jinja",
        title=title,
        said=f"{len(blocks)} blocks in {len({block.course for block in blocks})} courses, drawn 1:{strips[0].scale}",
        width=WIDTH_MM,
        height=floor + _FOOT,
        strips=[_drawn(strip, face, blocks, marks, peak, show_in) for strip in strips],
        kinds=list(_legend(kinds, floor)),
        bar=_bar(strips[0].scale, floor, show_in),
        foot=floor,
    )


def _strips(face: Face, peak: float, window_mm: tuple[float, float] | None = None) -> list[_Strip]:
    """The largest scale at which the window of a run, in strips, fits a sheet."""
    room = WIDTH_MM - _LEFT - _RIGHT
    left, right = window_mm or (face.left_mm, face.right_mm)
    right = min(right, face.right_mm)
    for scale in SCALES:
        n_strips, each = _cut(right - left, room * scale)
        tall = peak / scale + _UNDER + _GAP
        if _TOP + n_strips * tall + _FOOT <= HEIGHT_MM or scale == SCALES[-1]:
            break
    starts = [left + index * (each - _OVER_MM) for index in range(n_strips)]
    return [
        _Strip(start, min(start + each, right), scale, _TOP + index * tall + peak / scale)
        for index, start in enumerate(starts)
    ]


def _cut(length: float, room: float) -> tuple[int, float]:
    """How many strips, and how long each is with what it shares."""
    if length <= room:
        return 1, length
    if room <= 2 * _OVER_MM:
        return 10_000, room
    n_strips = math.ceil((length - _OVER_MM) / (room - _OVER_MM))
    return n_strips, (length - _OVER_MM) / n_strips + _OVER_MM


def _drawn(
    strip: _Strip, face: Face, blocks: Sequence[Laid], marks: Callable[[Laid], str], peak: float, show_in: str
) -> dict[str, Any]:
    """All that the template draws of one strip."""
    shown = [block for block in blocks if strip.shows(block.corners)]
    top = strip.y(peak)
    return {
        "left": strip.x(strip.left_mm),
        "right": strip.x(strip.right_mm),
        "top": top - 1,
        "tall": strip.floor - top + 2,
        "floor": strip.floor,
        "blocks": [_block(strip, block, marks(block), show_in) for block in shown],
        "returns": [points(strip.shape(corners)) for _, corners in face.returns if strip.shows(corners)],
        "mortar": [points(strip.shape(corners)) for corners in face.mortar if strip.shows(corners)],
        "lintels": [points(strip.shape(corners)) for corners in face.lintels if strip.shows(corners)],
        "openings": [
            _opening(strip, name, corners, show_in) for name, corners in face.openings if strip.shows(corners)
        ],
        "courses": list(_courses(strip, shown)),
        "chain": list(_chain(strip, face, show_in)),
        "length": _length(strip, face, show_in),
        "heights": list(_heights(strip, face, peak, show_in)),
    }


def _block(strip: _Strip, block: Laid, mark: str, show_in: str) -> dict[str, Any]:
    corners = strip.shape(block.corners)
    x, y, across, down = _room(corners)
    kind = kind_of(block)
    text = f"{mark} {kind.letter}" if kind.letter else mark
    size, upright = letters_mm(text, across, down)
    sides = units.show_size(block.shape.length_mm, block.shape.height_mm, block.shape.thickness_mm, show_in)
    said = [mark, f"course {block.course}", f"cast {sides}", kind.words if kind.letter else "", block.cut]
    in_view = strip.left_mm <= sum(along for along, _ in block.corners) / len(block.corners) <= strip.right_mm
    return {
        "points": points(corners),
        "kind": kind,
        "text": text if in_view else "",
        "x": x,
        "y": y,
        "size": size,
        "upright": upright,
        "title": ", ".join(part for part in said if part),
    }


def _room(corners: Sequence[Point]) -> tuple[float, float, float, float]:
    """Where to write in a block: the middle, and the width and height of a box about it that slopes leave free."""
    across = [x for x, _ in corners]
    down = [y for _, y in corners]
    share = _area(corners) / max(1e-9, (max(across) - min(across)) * (max(down) - min(down)))
    middle_x = sum(across) / len(across) if share < 0.99 else (min(across) + max(across)) / 2
    middle_y = sum(down) / len(down) if share < 0.99 else (min(down) + max(down)) / 2
    return middle_x, middle_y, share * (max(across) - min(across)), share * (max(down) - min(down))


def _area(corners: Sequence[Point]) -> float:
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2


def _opening(strip: _Strip, name: str, corners: Sequence[Point], show_in: str) -> dict[str, Any]:
    across, up = [along for along, _ in corners], [up for _, up in corners]
    left, right = max(min(across), strip.left_mm), min(max(across), strip.right_mm)
    wide = units.show(max(across) - min(across), "length", show_in)
    high = units.show(max(up) - min(up), "length", show_in)
    x, y = strip.x((left + right) / 2), strip.y((min(up) + max(up)) / 2)
    room = (right - left) / strip.scale
    lines = [name, f"{wide} wide", f"{high} high"]
    size = min(level_mm(text, room) for text in lines)
    rows = [(text, y + (index - 1) * 1.4 * size) for index, text in enumerate(lines)]
    return {"points": points(strip.shape(corners)), "name": name, "x": x, "lines": rows, "size": min(size, 2.4)}


def _courses(strip: _Strip, blocks: Sequence[Laid]) -> Iterator[tuple[int, float, float]]:
    """Number of each course, the height of its middle on paper, and that of its letters."""
    for course in sorted({block.course for block in blocks}):
        heights = [up for block in blocks if block.course == course for _, up in block.corners]
        tall = (max(heights) - min(heights)) / strip.scale
        yield course, strip.y((max(heights) + min(heights)) / 2), min(2.4, 0.8 * tall)


def _chain(strip: _Strip, face: Face, show_in: str) -> Iterator[dict[str, Any]]:
    """Dimensions from jamb to jamb along the run, one after the other."""
    ends = {along for _, corners in face.openings for along, _ in corners}
    places = sorted(along for along in ends | {face.left_mm, face.right_mm})
    for left, right in itertools.pairwise(places):
        if right - left < 1 or right <= strip.left_mm or left >= strip.right_mm:
            continue
        near, far = strip.x(max(left, strip.left_mm)), strip.x(min(right, strip.right_mm))
        text = units.show(right - left, "length", show_in)
        yield {"left": near, "right": far, "text": text, "size": level_mm(text, far - near)}


def _length(strip: _Strip, face: Face, show_in: str) -> str:
    return f"{face.name}: {units.show(face.right_mm - face.left_mm, 'length', show_in)} long"


def _heights(strip: _Strip, face: Face, peak: float, show_in: str) -> Iterator[dict[str, Any]]:
    """Heights at the right side: the end of the run, and its peak when that is higher."""
    x = strip.x(strip.right_mm)
    for index, up in enumerate(sorted({face.line[-1][1], peak})):
        if index == 0 or up - face.line[-1][1] > 1:
            yield {"x": x + 3 + 4 * index, "y": strip.y(up), "text": units.show(up, "length", show_in)}


def _legend(kinds: Counter[Kind], foot: float) -> Iterator[dict[str, Any]]:
    x = _LEFT
    for kind, count in sorted(kinds.items(), key=lambda item: item[0].letter):
        text = f"{kind.letter}: {kind.words}, {count}" if kind.letter else f"{kind.words}, {count}"
        yield {"kind": kind, "x": x, "y": foot, "text": text}
        x += 11 + 1.5 * len(text)


def _bar(scale: int, foot: float, show_in: str) -> dict[str, Any]:
    """A scale bar of whole metres or feet, 20 to 60 mm long on paper."""
    step = 1000.0 if show_in == "SI" else 304.8
    whole = next(n for n in (0.2, 0.5, 1, 2, 5, 10, 20, 50, 100) if n * step / scale >= 18)
    unit = "m" if show_in == "SI" else "ft"
    length = whole * step / scale
    return {"x": WIDTH_MM - _RIGHT - length, "y": foot, "length": length, "text": f"{whole:g} {unit}, 1:{scale}"}
