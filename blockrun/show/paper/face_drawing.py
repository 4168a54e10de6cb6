"""A face of a block drawn in its true size: its sides, its middle, what is sawn off, and on which sheets it lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from blockrun.order.domes.clip import Point
from blockrun.order.domes.faces import Face, Side
from blockrun.show.paper.tiles import Window, tiling

if TYPE_CHECKING:
    from blockrun.show.paper.face_words import FaceWords

MARGIN_MM: Final = 9.0
"""Round the outline: what a knife needs."""
_MOST_STRAIGHT: Final = 12
"""More sides than any face has that is sawn straight."""


@dataclass(frozen=True)
class FaceDrawing:
    """One face in its true size, mm from the upper left of the drawing, y down.

    Parameters
    ----------
    face : as the one sees it who marks it.
    cast : outline of the block that it is sawn out of, in the same place.
    """

    face: Face
    cast: Sequence[Point]

    @cached_property
    def extent(self) -> tuple[float, float, float, float]:
        """Of what is left of the face, the middle of the block with it: left, right, low and high."""
        corners = [point for side in self.sides for point in side]
        xs, (_, ys) = [0.0, *(x for x, _ in corners)], zip(*self.face.outline, strict=True)
        return min(xs), max(xs), min(ys), max(ys)

    @cached_property
    def sides(self) -> tuple[Side, ...]:
        """Of what is left of the face; none where all of it is sawn away."""
        return tuple(self.face.sides_left())

    @property
    def width_mm(self) -> float:
        """Of the drawing with its margin."""
        return self.extent[1] - self.extent[0] + 2 * MARGIN_MM

    @property
    def height_mm(self) -> float:
        """Of the drawing with its margin."""
        return self.extent[3] - self.extent[2] + 2 * MARGIN_MM

    @property
    def is_round(self) -> bool:
        """Whether the face is that of a crown block."""
        return len(self.face.outline) > _MOST_STRAIGHT

    def placed(self, points: Sequence[Point]) -> list[Point]:
        """Points of the face in the drawing."""
        left, _, _, top = self.extent
        return [(round(x - left + MARGIN_MM, 4), round(top - y + MARGIN_MM, 4)) for x, y in points]

    def on(self, windows: Sequence[Window], words: FaceWords) -> dict[str, Any]:
        """The drawing and the sheets it takes, as the template draws them.

        Parameters
        ----------
        windows : ways in which a sheet may lie.
        """
        spread = tiling(self.width_mm, self.height_mm, windows)
        written = words.written(self, spread)
        return {
            "sideways": spread.window.sideways,
            "window": [spread.window.width_mm, spread.window.height_mm],
            "tiles": [
                {"left": tile.left_mm, "top": tile.top_mm, "joins": spread.beside(tile),
                 "words": [word for number, word in written if number == tile.number]}
                for tile in spread.tiles
            ],
            "crosses": spread.crosses,
            "taken": [*map(self.placed, self.face.taken)],
            "cast": self.placed(self.cast),
            "sides": [*map(self.placed, self.sides)],
            "middle": [*map(self.placed, self._middle_lines())],
        }  # fmt: skip

    def _middle_lines(self) -> Iterator[Side]:
        """The middle of the block, from edge to edge and a little over; of a round one both ways."""
        left, right, low, high = self.extent
        over = MARGIN_MM / 2
        yield (0.0, low - over), (0.0, high + over)
        if self.is_round:
            yield (left - over, 0.0), (right + over, 0.0)
