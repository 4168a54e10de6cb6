"""Lengths as a saw goes by them: whole tenths of a millimetre, blocks and cuts rounded up, slabs rounded down.

What fits so fits in truth, and by less than anybody can measure a block that is longer than its slab does not.
"""

from __future__ import annotations

import math
from typing import Final

TENTHS_A_MM: Final = 10
_BINARY: Final = 1e-6


def tenths_up(mm: float) -> int:
    """Tenths of a millimetre that a block or a cut takes; binary rounding is not a tenth."""
    return math.ceil(mm * TENTHS_A_MM - _BINARY)


def tenths_down(mm: float) -> int:
    """Tenths of a millimetre that a slab has."""
    return math.floor(mm * TENTHS_A_MM + _BINARY)
