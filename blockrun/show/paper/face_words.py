"""What is written on a face in its true size: its name, and beside each side its length, whole on one sheet."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from blockrun.order.domes.clip import Point, within
from blockrun.order.domes.faces import Side
from blockrun.show.tape import size_on_tape

if TYPE_CHECKING:
    from blockrun.show.paper.face_drawing import FaceDrawing
    from blockrun.show.paper.tiles import Tiling

Word = dict[str, Any]
"""Words as the template sets them, their middle at a place."""
Box = tuple[float, float, float, float]
"""Left, low, right and high, mm on the face."""

_LETTER_MM: Final = 4.0
_LEAST_MM: Final = 2.4
_WIDE: Final = 0.62
"""Mean width of a letter, as a share of its size."""
_OFF_MM: Final = 3.8
"""From a side to the middle of its length."""
_LEVEL_MM: Final = 0.01
_LEAST_SIDE_MM: Final = 5.0
"""Shorter sides have no length beside them."""
_SHARES: Final = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.15, 0.85)
"""Where beside a side its length may stand, the best first."""
_SIZES_MM: Final = (16.0, 11.0, 8.0, 6.0, 4.5, 3.5)
"""Sizes of the name of a piece, the first that fits."""


@dataclass(frozen=True)
class FaceWords:
    """What is to be written on a face.

    Parameters
    ----------
    name, lines : of the piece; and what is said under it.
    """

    name: str
    lines: Sequence[str]
    units: str

    def written(self, drawing: FaceDrawing, spread: Tiling) -> list[tuple[int, Word]]:
        """Each word with the number of a sheet that shows all of it; none where no place is left."""
        free = _Room(drawing, spread)
        return [*self._lengths(drawing, free), *self._name(drawing, free)]

    def _lengths(self, drawing: FaceDrawing, free: _Room) -> Iterator[tuple[int, Word]]:
        left, right, low, high = drawing.extent
        if drawing.is_round:
            yield from self._along(((left, 0.0), (right, 0.0)), f"{self._length(right - left)} across", free)
            return
        for side in drawing.sides:
            if math.dist(*side) >= _LEAST_SIDE_MM:
                yield from self._along(side, self._said(side), free)
        tops = [x for x, y in drawing.face.outline if abs(y - high) < _LEVEL_MM]
        if min(tops) < 0 < max(tops):  # under a slope the middle is not as high as that
            yield from self._along(((0.0, low), (0.0, high)), f"{self._length(high - low)} high", free)

    def _said(self, side: Side) -> str:
        """The length of a side; of a level one also how the middle of the block parts it, unless in two halves."""
        (x0, y0), (x1, y1) = side
        left, right = -min(x0, x1), max(x0, x1)
        said = self._length(math.dist(*side))
        if abs(y0 - y1) > _LEVEL_MM or abs(left - right) < 1 or min(left, right) < 1:
            return said
        return f"{said}, {self._length(min(left, right))} of it {'left' if left < right else 'right'} of the middle"

    def _along(self, side: Side, text: str, free: _Room) -> Iterator[tuple[int, Word]]:
        size = min(_LETTER_MM, max(_LEAST_MM, math.dist(*side) * 0.9 / (_WIDE * len(text))))
        for off_block, share in itertools.product((False, True), _SHARES):  # beside a thin strip, on what is sawn off
            x, y, turn = free.beside(side, share, off_block=off_block)
            if number := free.take((x, y), _WIDE * size * len(text), 1.2 * size, turn, off_block=off_block):
                px, py = free.drawing.placed([(x, y)])[0]
                yield number, {"x": px, "y": py, "turn": turn, "size": size, "text": text}
                return

    def _name(self, drawing: FaceDrawing, free: _Room) -> Iterator[tuple[int, Word]]:
        """As large as what is left takes it, near its middle, clear of the middle line."""
        left, right, low, high = drawing.extent
        for size in _SIZES_MM:
            wide = max(_WIDE * size * len(self.name), *(_WIDE * size / 3 * len(line) for line in self.lines)) + 4
            tall = size * (1.7 + 0.55 * len(self.lines)) + 4
            for x, y in _round_about((left + right) / 2 + wide / 2 + 8, (low + high) / 2, drawing.extent):
                if abs(x) > wide / 2 and (number := free.take((x, y), wide, tall)):
                    px, py = drawing.placed([(x, y)])[0]
                    yield number, {"x": px, "y": py, "size": size, "name": self.name, "lines": list(self.lines)}
                    return

    def _length(self, length_mm: float) -> str:
        return size_on_tape(self.units, length_mm)


class _Room:
    """What of a face words have left free."""

    def __init__(self, drawing: FaceDrawing, spread: Tiling) -> None:
        self.drawing, self.spread = drawing, spread
        self._written: list[Box] = []

    def take(self, middle: Point, wide: float, tall: float, turn_deg: float = 0.0, *, off_block: bool = False) -> int:
        """A sheet that shows a whole box on the face, clear of all words written so far; 0 where there is none.

        Parameters
        ----------
        turn_deg : of the box about its middle, clockwise on paper.
        off_block : whether it need not be on what is left of the face.
        """
        spots = [_turned(middle, x * wide / 2, y * tall / 2, turn_deg) for x in (-1, 0, 1) for y in (-1, 0, 1)]
        xs, ys = zip(*spots, strict=True)
        box = (min(xs), min(ys), max(xs), max(ys))
        if any(_overlap(box, other) for other in self._written) or not (off_block or all(map(self._is_on, spots))):
            return 0
        (left, top), (right, bottom) = self.drawing.placed([(box[0], box[3]), (box[2], box[1])])
        sheets = self.spread.whole_in(left, top, right, bottom)
        if not sheets:
            return 0
        self._written.append(box)
        return sheets[0]

    def beside(self, side: Side, share: float, *, off_block: bool) -> tuple[float, float, float]:
        """A place beside a side, on the block or off it, and how words turn there, degrees clockwise on paper."""
        (x0, y0), (x1, y1) = side
        long = math.dist(*side)
        along, up = (x1 - x0) / long, (y1 - y0) / long
        x, y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
        way = 1 if self._is_on((x - up * _OFF_MM, y + along * _OFF_MM)) != off_block else -1
        turn = -math.degrees(math.atan2(up, along))
        turn = turn + 180 if turn <= -90 else turn - 180 if turn > 90 else turn
        return x - way * up * _OFF_MM, y + way * along * _OFF_MM, turn

    def _is_on(self, point: Point) -> bool:
        face = self.drawing.face
        return within(face.outline, point, 0.5) and not any(within(part, point, -0.5) for part in face.taken)


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _turned(middle: Point, x: float, y: float, turn_deg: float) -> Point:
    """A point so far right of and over another, on words that are turned clockwise."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return middle[0] + x * cos + y * sin, middle[1] - x * sin + y * cos


def _round_about(x: float, y: float, extent: tuple[float, float, float, float]) -> Iterator[Point]:
    """Places in the extent of a face, nearest to the one wanted first."""
    left, right, low, high = extent
    grid = [(left + i * (right - left) / 24, low + j * (high - low) / 12) for i in range(25) for j in range(13)]
    yield from sorted([(x, y), *grid], key=lambda place: math.dist(place, (x, y)))
