"""Numbers from one unit into another, by pint and a short list of units of our own."""

from __future__ import annotations

import functools
import importlib.resources
from typing import TYPE_CHECKING

from blockrun.units.known import BASE, UNITS

if TYPE_CHECKING:
    import pint


def to_base(number: float, dimension: str, unit: str) -> float:
    """A number of the unit written so (a key of `UNITS`), in the base unit of its dimension."""
    return _convert(number, UNITS[dimension][unit], UNITS[dimension][BASE[dimension]])


def in_unit(value: float, dimension: str, unit: str) -> float:
    """A value in the base unit, turned into the unit written so (a key of `UNITS`)."""
    return _convert(value, UNITS[dimension][BASE[dimension]], UNITS[dimension][unit])


def _convert(number: float, source: str, target: str) -> float:
    return float(_registry().Quantity(number, source).to(target).magnitude)


@functools.cache
def _registry() -> pint.UnitRegistry[float]:
    """Our own units only: quick to load, and nothing in it that a yard does not use."""
    import pint

    source = importlib.resources.files("blockrun.units").joinpath("units.txt")
    return pint.UnitRegistry(source.read_text(encoding="utf-8").splitlines())
