"""Numbers from one unit into another."""

from __future__ import annotations

from blockrun.units.known import UNITS, ZEROS


def to_base(number: float, dimension: str, unit: str) -> float:
    """A number of the unit written so (a key of `UNITS`), in the base unit of its dimension."""
    return number * float(UNITS[dimension][unit]) + float(ZEROS.get((dimension, unit), 0))


def in_unit(value: float, dimension: str, unit: str) -> float:
    """A value in the base unit, turned into the unit written so (a key of `UNITS`)."""
    return (value - float(ZEROS.get((dimension, unit), 0))) / float(UNITS[dimension][unit])
