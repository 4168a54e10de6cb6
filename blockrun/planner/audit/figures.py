"""How numbers of a plan are compared and said."""

from __future__ import annotations

import math
from typing import Final

PRINTED: Final = 0.01
"""Kilograms, litres and money may differ by this much from what is recomputed.

A table printed to two decimals is off by at most 0.005; twice that leaves room for a sum of exact numbers that
was rounded on its way, and is still less than any scale of the yard shows (our choice).
"""

ROUNDING: Final = 1e-6
"""Limits in kilograms and litres may be passed by this much: it is binary rounding, not concrete."""

SIDE_MM: Final = 0.01
"""Sides of block and cavity may differ by this much: inches round, and no mould is truer (our choice)."""

LEAN_DEG: Final = 0.25
"""Faces may lean by this much more or less than they are to: under a millimetre over a thickness (our choice)."""

BAG: Final = 0.001
"""Bags may differ by this much from a whole number of steps: a third of a bag is printed as 0.333."""


def near(written: float, recomputed: float, tolerance: float = PRINTED) -> bool:
    """Tell whether a written number is the recomputed one, printed."""
    return abs(written - recomputed) <= tolerance


def figure(number: float) -> str:
    """Say a number with up to two decimals, such as ``12.5``."""
    text = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def whole_minutes(minutes: float) -> int:
    """Length of a task in whole minutes: rounded up, but not for a trace of binary rounding."""
    return math.ceil(minutes - ROUNDING)


def counted(number: int, thing: str, things: str = "") -> str:
    """Say a number of things, such as ``1 block`` or ``3 blocks``."""
    return f"1 {thing}" if number == 1 else f"{number} {things or thing + 's'}"
