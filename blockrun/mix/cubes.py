"""Test cubes: how many are cast, and how much mix they take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from blockrun.errors import OutOfRange

MM3_PER_L: Final = 1_000_000
LEAST_SIDE_MM: Final = 40.0
MOST_SIDE_MM: Final = 300.0
_SLACK: Final = 1e-9
"""A volume this share beyond a whole number of lots is rounding, not mix."""


def cubes_l(count: int, side_mm: float, overfill: float = 0.0) -> float:
    """Mix that a set of cubes takes.

    Parameters
    ----------
    count : cubes of a set, >= 1.
    side_mm : length of an edge, 40 to 300 mm.
    overfill : poured above the cube and struck off, a share of it, >= 0.

    Returns
    -------
    Litres.

    Raises
    ------
    OutOfRange : an argument is outside the limits above.
    """
    if count < 1:
        raise OutOfRange("a set has one cube or more", "Write 3, say.", name="count", value=count, limit=1)
    if not LEAST_SIDE_MM <= side_mm <= MOST_SIDE_MM:
        raise OutOfRange(
            f"a test cube of {side_mm:g} mm is not usual",
            "Write a side from 40 mm to 300 mm; 100 mm is usual.",
            name="size",
            value=side_mm,
            unit="mm",
        )
    if overfill < 0:
        raise OutOfRange("overfill is under nought", "Write 0 % or more.", name="overfill", value=overfill, limit=0)
    return count * side_mm**3 / MM3_PER_L * (1 + overfill)


def days_with_cubes(made_l: Sequence[float], every_l: float) -> list[int]:
    """On which days the first batch of a mix gives a set of cubes.

    The first day that makes any gives one, then each that begins with a whole lot made since the last set. What a day
    owes so depends on the days before it alone, never on how its own batches are cut.

    Parameters
    ----------
    made_l : what is made of the mix on each day, >= 0, in order.
    every_l : size of a lot, > 0.

    Returns
    -------
    Indexes into `made_l`, ascending; days that make nothing are not among them.

    Raises
    ------
    OutOfRange : a lot is nought, less or endless.

    Source
    ------
    Our choice.
    """
    if not 0 < every_l < math.inf:
        raise OutOfRange("a lot of mix has a volume", "Write one, such as 5 m3.", name="every", value=every_l, unit="L")
    due: list[int] = []
    since_l = Fraction(0)  # exact, so that two counts of the same days never differ
    for index, litres in enumerate(made_l):
        if litres and (not due or float(since_l) >= every_l * (1 - _SLACK)):
            due.append(index)
            since_l = Fraction(0)
        since_l += Fraction(litres)
    return due
