"""A run of a wall on paper: its scale, the strips it is cut into, and the sheets these go on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.order.laid import Laid, Point
from blockrun.order.walls import Face
from blockrun.show.pictures.paper import HEIGHT_MM, LEAST_MM, SCALES, WIDTH_MM, letters_mm

LEFT: Final = 18.0
RIGHT: Final = 16.0
TOP: Final = 14.0
FOOT: Final = 22.0
"""Room for the legend below the strips of a sheet."""
UNDER: Final = 17.0
"""Room below each strip for its dimensions."""
_GAP: Final = 4.0
_OVER_MM: Final = 300.0
"""What two strips of one run show both, in mm of the wall."""

Window = tuple[float, float]
"""From where to where of a run a sheet shows."""


@dataclass(frozen=True)
class Strip:
    """A part of a run on paper: from where to where, the scale, and the place of its lower left corner."""

    left_mm: float
    right_mm: float
    scale: int
    floor: float

    def x(self, along_mm: float) -> float:
        """Across the sheet."""
        return LEFT + (along_mm - self.left_mm) / self.scale

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


def peak_of(face: Face, blocks: Sequence[Laid]) -> float:
    """The highest point of a face."""
    return max([up for _, up in face.line] + [up for block in blocks for _, up in block.corners])


def windows(face: Face, blocks: Sequence[Laid]) -> list[Window]:
    """What each sheet of a face shows: all of it, or so little that marks of whole blocks are read."""
    peak = peak_of(face, blocks)
    most = next(scale for scale in reversed(SCALES) if scale <= _coarsest(blocks))
    left, right = whole = face.ends_mm
    if strips_of(whole, peak)[0].scale <= most:
        return [whole]
    a_sheet = max(1, int((HEIGHT_MM - TOP - FOOT) / (peak / most + UNDER + _GAP)))
    n_sheets = math.ceil(_cut(right - left, (WIDTH_MM - LEFT - RIGHT) * most)[0] / a_sheet)
    length = (right - left - _OVER_MM) / n_sheets
    starts = [left + sheet * length for sheet in range(n_sheets)]
    return [(start, min(start + length + _OVER_MM, right)) for start in starts]


def _coarsest(blocks: Sequence[Laid]) -> float:
    """Scale at which the mark of a whole block is still read."""
    length, height = (max(getattr(block.shape, side) for block in blocks) for side in ("length_mm", "height_mm"))
    fits = (scale for scale in reversed(SCALES) if letters_mm("W600", length / scale, height / scale)[0] >= LEAST_MM)
    return next(fits, SCALES[0])


def strips_of(window: Window, peak: float) -> list[Strip]:
    """The largest scale at which a window of a run, in strips, fits a sheet."""
    room, (left, right) = WIDTH_MM - LEFT - RIGHT, window
    for scale in SCALES:
        n_strips, each = _cut(right - left, room * scale)
        tall = peak / scale + UNDER + _GAP
        if TOP + n_strips * tall + FOOT <= HEIGHT_MM or scale == SCALES[-1]:
            break
    starts = [left + index * (each - _OVER_MM) for index in range(n_strips)]
    return [
        Strip(start, min(start + each, right), scale, TOP + index * tall + peak / scale)
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
