"""The units known here, by dimension, and which of them values are kept and shown in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

_LENGTHS: Final = {"mm": "millimetre", "cm": "centimetre", "m": "metre", "in": "inch", "ft": "foot", "yd": "yard"}
_VOLUMES: Final = {
    "L": "litre",
    "mL": "millilitre",
    "m3": "metre ** 3",
    "gal": "gallon",
    "imp gal": "imperial_gallon",
    "qt": "quart",
    "fl oz": "fluid_ounce",
    "ft3": "foot ** 3",
    "yd3": "yard ** 3",
}
_TIMES: Final = {"s": "second", "min": "minute", "h": "hour", "d": "day", "week": "week", "weeks": "week"}

UNITS: Final[Mapping[str, Mapping[str, str]]] = {
    "length": _LENGTHS,
    "volume": _VOLUMES,
    "mass": {"kg": "kilogram", "g": "gram", "t": "tonne", "lb": "pound", "oz": "ounce"},
    "time": _TIMES,
    "temperature": {"degC": "degree_Celsius", "degF": "degree_Fahrenheit"},
    "temperature_difference": {"degC": "delta_degree_Celsius", "degF": "delta_degree_Fahrenheit", "K": "kelvin"},
    "density": {
        "kg/m3": "kilogram / metre ** 3",
        "g/L": "gram / litre",
        "kg/L": "kilogram / litre",
        "lb/ft3": "pound / foot ** 3",
    },
    "rate": {
        "L/min": "litre / minute",
        "L/s": "litre / second",
        "L/h": "litre / hour",
        "m3/h": "metre ** 3 / hour",
        "gal/min": "gallon / minute",
        "ft3/min": "foot ** 3 / minute",
    },
    "strength": {"MPa": "megapascal", "N/mm2": "newton / millimetre ** 2", "psi": "pound_per_square_inch"},
    "activation_energy": {"kJ/mol": "kilojoule / mole", "J/mol": "joule / mole"},
    "angle": {"deg": "degree"},
}
"""What may be written for each dimension, and the library's name of the unit it stands for."""

BASE: Final = {
    "length": "mm",
    "volume": "L",
    "mass": "kg",
    "time": "min",
    "temperature": "degC",
    "temperature_difference": "degC",
    "density": "kg/m3",
    "rate": "L/min",
    "strength": "MPa",
    "activation_energy": "kJ/mol",
    "angle": "deg",
}
US: Final = {
    "length": "in",
    "volume": "gal",
    "mass": "lb",
    "temperature": "degF",
    "temperature_difference": "degF",
    "density": "lb/ft3",
    "rate": "gal/min",
    "strength": "psi",
}
COMPOUND: Final = ("length", "volume", "mass", "time")
"""Dimensions of which several terms may be added up, such as ``7 ft 6 in``."""


def word(dimension: str) -> str:
    """What people call a dimension."""
    called = {"rate": "flow", "temperature_difference": "difference in temperature"}
    return called.get(dimension, dimension.replace("_", " "))


def named(dimension: str) -> str:
    """What people call a dimension, with its article."""
    called = word(dimension)
    return f"an {called}" if called[0] in "aeiou" else f"a {called}"
