"""A drawing that is larger than the paper, on several sheets that overlap and are joined by crosses."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

OVERLAP_MM: Final = 12.0
"""What two sheets side by side both show (our choice): room for a strip of glue and a cross in its middle."""
_EASE_MM: Final = 1e-6
_CROSSES: Final = (0.12, 0.88)
"""Where along the edge of a sheet its crosses are, as shares of it."""


@dataclass(frozen=True)
class Window:
    """Room for a drawing on a sheet, mm; ``sideways`` where the sheet lies on its side."""

    width_mm: float
    height_mm: float
    sideways: bool = False


@dataclass(frozen=True)
class Tile:
    """One sheet of a drawing: its number from 1, row by row, and what of the drawing its window begins with, mm."""

    number: int
    column: int
    row: int
    left_mm: float
    top_mm: float


@dataclass(frozen=True)
class Tiling:
    """A drawing spread over sheets, in their middle."""

    width_mm: float
    height_mm: float
    window: Window
    columns: int
    rows: int

    @cached_property
    def tiles(self) -> tuple[Tile, ...]:
        """The sheets, from the upper left, row by row."""
        places = ((row, column) for row in range(self.rows) for column in range(self.columns))
        return tuple(
            Tile(number, column, row, self._begins(self.width_mm, self.columns, self.window.width_mm, column),
                 self._begins(self.height_mm, self.rows, self.window.height_mm, row))
            for number, (row, column) in enumerate(places, start=1)
        )  # fmt: skip

    @property
    def crosses(self) -> tuple[tuple[float, float], ...]:
        """Places in the drawing, each shown by all sheets that meet there: laid on one another they join the sheets."""
        return tuple(dict.fromkeys(self._crosses()))

    def whole_in(self, left_mm: float, top_mm: float, right_mm: float, bottom_mm: float) -> tuple[int, ...]:
        """Numbers of the sheets that show a whole box of the drawing."""
        return tuple(
            tile.number
            for tile in self.tiles
            if tile.left_mm <= left_mm
            and tile.top_mm <= top_mm
            and right_mm <= tile.left_mm + self.window.width_mm
            and bottom_mm <= tile.top_mm + self.window.height_mm
        )

    def beside(self, tile: Tile) -> dict[str, int]:
        """Numbers of the sheets next to one, by where they join it."""
        steps = {"left": (-1, 0), "right": (1, 0), "above": (0, -1), "below": (0, 1)}
        return {
            where: (tile.row + down) * self.columns + tile.column + across + 1
            for where, (across, down) in steps.items()
            if 0 <= tile.column + across < self.columns and 0 <= tile.row + down < self.rows
        }

    def _begins(self, length_mm: float, count: int, room_mm: float, index: int) -> float:
        spare = count * room_mm - (count - 1) * OVERLAP_MM - length_mm
        return index * (room_mm - OVERLAP_MM) - spare / 2

    def _crosses(self) -> Iterator[tuple[float, float]]:
        for tile in self.tiles:
            for share in _CROSSES:
                if tile.column:
                    yield tile.left_mm + OVERLAP_MM / 2, tile.top_mm + share * self.window.height_mm
                if tile.row:
                    yield tile.left_mm + share * self.window.width_mm, tile.top_mm + OVERLAP_MM / 2


def tiling(width_mm: float, height_mm: float, windows: Sequence[Window]) -> Tiling:
    """The fewest sheets that hold a drawing in its true size; of two ways with as few, the first.

    Parameters
    ----------
    width_mm, height_mm : of the drawing, > 0.
    windows : ways in which a sheet may lie, at least one, each wider and higher than the overlap.
    """
    ways = [
        Tiling(width_mm, height_mm, window, _count(width_mm, window.width_mm), _count(height_mm, window.height_mm))
        for window in windows
    ]
    return min(ways, key=lambda way: way.columns * way.rows)


def _count(length_mm: float, room_mm: float) -> int:
    return max(1, math.ceil((length_mm - OVERLAP_MM - _EASE_MM) / (room_mm - OVERLAP_MM)))
