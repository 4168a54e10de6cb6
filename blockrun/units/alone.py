"""A number that stands alone, and the units in which it can be meant."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final

from blockrun.units.convert import to_base
from blockrun.units.known import BASE, UNITS, US

_METRIC: Final = {"length": ("mm", "m"), "volume": ("L", "m3"), "mass": ("kg", "g")}
"""What a number is offered in beside the unit usual for its key, where that cannot be."""


def offered(bare: str, dimension: str, usual: str, fits: Callable[[float], bool]) -> str:
    """What to write in place of a number that has no unit.

    Parameters
    ----------
    bare : such as ``5000``, ``1/2`` or ``3 1/2``.
    dimension : a key of `UNITS`.
    usual : the unit in which the like is written.
    fits : whether a value in the base unit of the dimension can be right.

    Returns
    -------
    The number in the first metric unit that fits, the usual one before others, and in the US one if that fits; empty
    where none does.
    """
    number = float(sum(Fraction(piece) for piece in bare.split()))
    metric = [usual, *_METRIC.get(dimension, (BASE[dimension],))]
    fitting = [unit for unit in metric if unit in UNITS[dimension] and fits(to_base(number, dimension, unit))][:1]
    us = US.get(dimension, usual)
    if us not in fitting and fits(to_base(number, dimension, us)):
        fitting.append(us)
    return " or ".join(f"{bare} {unit}" for unit in fitting)
