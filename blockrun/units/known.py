"""The units known here, by dimension: how large each is, and which of them values are kept and shown in.

Sizes of the US and imperial units are exact by definition: inch and pound of 1959, standard gravity, 231 cubic inches
to the US gallon, 4.54609 L to the imperial gallon. tests/units/test_units_by_pint.py holds all against a library.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

_INCH: Final = Fraction("25.4")
_FOOT: Final = 12 * _INCH
_MM3_A_L: Final = 10**6
_GALLON: Final = 231 * _INCH**3 / _MM3_A_L
_FOOT3: Final = _FOOT**3 / _MM3_A_L
_POUND: Final = Fraction("0.45359237")
_POUND_FORCE: Final = _POUND * Fraction("9.80665")

MINUTES_A_DAY: Final = 1440
_WEEK: Final = 7 * MINUTES_A_DAY

SIXTEENTH_MM: Final = float(_INCH / 16)
"""What a tape in inches is divided into."""

UNITS: Final[Mapping[str, Mapping[str, Fraction | int]]] = {
    "length": {"mm": 1, "cm": 10, "m": 1000, "in": _INCH, "ft": _FOOT, "yd": 3 * _FOOT},
    "volume": {
        "L": 1,
        "mL": Fraction(1, 1000),
        "m3": 1000,
        "gal": _GALLON,
        "imp gal": Fraction("4.54609"),
        "qt": _GALLON / 4,
        "fl oz": _GALLON / 128,
        "ft3": _FOOT3,
        "yd3": 27 * _FOOT3,
    },
    "mass": {"kg": 1, "g": Fraction(1, 1000), "t": 1000, "lb": _POUND, "oz": _POUND / 16},
    "time": {"s": Fraction(1, 60), "min": 1, "h": 60, "d": MINUTES_A_DAY, "week": _WEEK, "weeks": _WEEK},
    "temperature": {"degC": 1, "degF": Fraction(5, 9)},
    "temperature_difference": {"degC": 1, "degF": Fraction(5, 9), "K": 1},
    "density": {"kg/m3": 1, "g/L": 1, "kg/L": 1000, "lb/ft3": _POUND / _FOOT3 * 1000},
    "rate": {
        "L/min": 1,
        "L/s": 60,
        "L/h": Fraction(1, 60),
        "m3/h": Fraction(1000, 60),
        "gal/min": _GALLON,
        "ft3/min": _FOOT3,
    },
    "force": {"kN": 1, "N": Fraction(1, 1000), "lbf": _POUND_FORCE / 1000},
    "strength": {"MPa": 1, "N/mm2": 1, "psi": _POUND_FORCE / _INCH**2},
    "activation_energy": {"kJ/mol": 1, "J/mol": Fraction(1, 1000)},
    "angle": {"deg": 1},
}
"""What may be written for each dimension, and how many base units one of it is."""

ZEROS: Final = {("temperature", "degF"): Fraction(-160, 9)}
"""Where the zero of a unit lies, in base units, if it is not theirs."""

BASE: Final = {
    "length": "mm",
    "volume": "L",
    "mass": "kg",
    "time": "min",
    "temperature": "degC",
    "temperature_difference": "degC",
    "density": "kg/m3",
    "rate": "L/min",
    "force": "kN",
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
    "force": "lbf",
    "strength": "psi",
}
COMPOUND: Final = ("length", "volume", "mass", "time")
"""Dimensions of which several terms may be added up, such as ``7 ft 6 in``."""


def usual(dimension: str, units: str) -> str:
    """The unit in which a dimension is shown, in ``SI`` or ``US``."""
    return US.get(dimension, BASE[dimension]) if units == "US" else BASE[dimension]


def word(dimension: str) -> str:
    """What people call a dimension."""
    called = {"rate": "flow", "temperature_difference": "difference in temperature"}
    return called.get(dimension, dimension.replace("_", " "))


def named(dimension: str) -> str:
    """What people call a dimension, with its article."""
    called = word(dimension)
    return f"an {called}" if called[0] in "aeiou" else f"a {called}"
