"""What a mould casts: a box whose ends and beds may lean in."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Shape:
    """A block as it is cast; the box around it, and how far its faces lean into that box.

    Parameters
    ----------
    length_mm, height_mm, thickness_mm : the box, each > 0; the length is that of the outside at the bottom.
    bevel_deg : each end leans in by so much from the outside to the inside, through the thickness.
    taper_deg : each end leans in by so much from the bottom to the top, up the face.
    bed_deg : each bed leans in by so much from the outside to the inside.
    """

    length_mm: float
    height_mm: float
    thickness_mm: float
    bevel_deg: float = 0.0
    taper_deg: float = 0.0
    bed_deg: float = 0.0

    def height_at_mm(self, depth_mm: float) -> float:
        """Height at so far from the outside."""
        return self.height_mm - 2 * depth_mm * _tan(self.bed_deg)

    def length_at_mm(self, depth_mm: float, up_mm: float) -> float:
        """Length at so far from the outside and so far up from the bottom."""
        return self.length_mm - 2 * depth_mm * _tan(self.bevel_deg) - 2 * up_mm * _tan(self.taper_deg)

    @property
    def volume_l(self) -> float:
        """Volume in litres.

        Source
        ------
        The cross-section is a polynomial of the second degree of the depth, so Simpson's rule is exact.
        """
        if not (self.bevel_deg or self.taper_deg or self.bed_deg):
            return self.length_mm * self.height_mm * self.thickness_mm / 1e6
        near, middle, far = (self._section_mm2(self.thickness_mm * share) for share in (0.0, 0.5, 1.0))
        return (near + 4 * middle + far) * self.thickness_mm / 6e6

    def _section_mm2(self, depth_mm: float) -> float:
        """Area of the face so far from the outside: the beds lean in from below and above alike."""
        height, foot = self.height_at_mm(depth_mm), depth_mm * _tan(self.bed_deg)
        return height * self.length_at_mm(depth_mm, foot + height / 2)


def _tan(angle_deg: float) -> float:
    return math.tan(math.radians(angle_deg))
