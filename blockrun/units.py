"""Text with a unit to a number and back; the only file that imports pint.

Each dimension has one base unit, the one that names in the code end in: litres, millimetres, kilograms, minutes,
degrees Celsius, kg/m3, litres a minute, degrees of angle. What a user may write is narrow on purpose: a number
(``24``, ``1.5``, ``1/2``, ``3 1/2``) and a unit from the table below, or, for lengths, times, masses and volumes,
several of them from large to small (``7 ft 6 in``, ``1 h 30 min``). The library is never handed the user's own string.
"""

from __future__ import annotations

import difflib
import functools
import importlib.resources
import itertools
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput

if TYPE_CHECKING:
    import pint

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
    "angle": {"deg": "degree"},
}
"""What may be written for each dimension, and the unit it stands for."""

_BASE: Final = {
    "length": "mm",
    "volume": "L",
    "mass": "kg",
    "time": "min",
    "temperature": "degC",
    "temperature_difference": "degC",
    "density": "kg/m3",
    "rate": "L/min",
    "angle": "deg",
}
_US: Final = {
    "length": "in",
    "volume": "gal",
    "mass": "lb",
    "temperature": "degF",
    "temperature_difference": "degF",
    "density": "lb/ft3",
    "rate": "gal/min",
}
_COMPOUND: Final = ("length", "volume", "mass", "time")
_LONGEST: Final = 60
_NUMBER: Final = r"(?:[0-9]{1,12}\.[0-9]{1,9}|[0-9]{1,9} +[0-9]{1,6}/[0-9]{1,6}|[0-9]{1,6}/[0-9]{1,6}|[0-9]{1,12})"
_TERM: Final = re.compile(rf"({_NUMBER}) *([^\s0-9.+-]\S*(?: +[^\s0-9.+-]\S*)*)")


@dataclass(frozen=True)
class Quantity:
    """A number in the base unit of its dimension, and the unit it was written in."""

    value: float
    unit: str


def read(text: str, dimension: str) -> Quantity:
    """A quantity as a user writes it.

    Parameters
    ----------
    text : such as ``220 L``, ``3 1/2 in``, ``7 ft 6 in`` or ``-5 degC``.
    dimension : a key of `UNITS`.

    Returns
    -------
    The value in the base unit, to twelve digits and nine decimals, and the (first) unit written.

    Raises
    ------
    BadInput : no number, no unit, an unknown unit or one of another dimension.
    """
    written = text.strip()
    sign, terms = _terms(written, dimension)
    known = [_unit(unit, written, dimension) for _, unit in terms]
    if len(terms) > 1:
        _check_compound(written, dimension, terms)
    total = sum(_to_base(float(number), unit, dimension) for (number, _), unit in zip(terms, known, strict=True))
    if dimension == "temperature":
        total = _to_base(sign * float(terms[0][0]), known[0], dimension)
    else:
        total *= sign
    return Quantity(round(float(f"{total:.12g}"), 9), terms[0][1])


def factor(unit: str, dimension: str) -> float:
    """How many base units one ``unit`` is (not for temperatures, whose zeros differ)."""
    return read(f"1 {unit}", dimension).value


def size(text: str) -> tuple[float, float, float]:
    """Three lengths in mm from ``600 x 300 x 200 mm`` or ``16 in x 8 in x 8 in``, in the order written.

    A length without a unit takes the last one's.

    Raises
    ------
    BadInput : not three lengths, or one of them cannot be read.
    """
    pieces = [piece.strip() for piece in text.split(" x ")]
    if len(pieces) != 3:
        raise BadInput(
            f"{_shown(text)} is not length x height x thickness", "Write three lengths, for example 600 x 300 x 200 mm."
        )
    last = _TERM.fullmatch(pieces[2])
    unit = f" {last[2]}" if last else ""
    whole = [piece + unit if re.fullmatch(_NUMBER, piece) else piece for piece in pieces]
    length, height, thickness = (read(piece, "length").value for piece in whole)
    return length, height, thickness


def percent(text: str) -> Decimal:
    """A share of one, exactly, from ``3 %``.

    Raises
    ------
    BadInput : not a number and a per cent sign.
    """
    match = re.fullmatch(r"([+-]?[0-9]{1,6}(?:\.[0-9]{1,6})?) *%", text.strip())
    if not match:
        raise BadInput(f"{_shown(text)} is not a percentage", "Write a number and the % sign, for example 3 %.")
    return (Decimal(match[1]) / 100).normalize() + 0


def ratio(text: str) -> tuple[float, float]:
    """Two numbers of parts from ``1:40``, both more than zero.

    Raises
    ------
    BadInput : not two positive numbers with a colon between.
    """
    match = re.fullmatch(r"([0-9]{1,6}(?:\.[0-9]{1,6})?) *: *([0-9]{1,6}(?:\.[0-9]{1,6})?)", text.strip())
    if not match or not float(match[1]) or not float(match[2]):
        raise BadInput(f"{_shown(text)} is not a ratio", "Write parts of agent : parts of water, for example 1:40.")
    return float(match[1]), float(match[2])


def show(value: float, dimension: str, units: str = "SI") -> str:
    """A value in words, in the units the user prefers.

    Parameters
    ----------
    value : in the base unit of the dimension; for ``fraction`` a share of one, for ``ratio`` parts to one.
    dimension : a key of `UNITS`, or ``fraction`` or ``ratio``.
    units : ``SI`` or ``US``.

    Returns
    -------
    Text that `read` (or `percent`, `ratio`) takes back, to four significant digits and at most three decimals.
    """
    if dimension == "fraction":
        return f"{digits(value * 100)} %"
    if dimension == "ratio":
        return f"1:{digits(value)}"
    if dimension == "time":
        return _show_time(value)
    unit = _US.get(dimension, _BASE[dimension]) if units == "US" else _BASE[dimension]
    return f"{digits(in_unit(value, dimension, unit))} {unit}"


def show_size(length_mm: float, height_mm: float, thickness_mm: float, units: str = "SI") -> str:
    """A block's or a cavity's size in words, such as ``600 x 300 x 200 mm``."""
    sides = [show(side, "length", units).rsplit(" ", 1) for side in (length_mm, height_mm, thickness_mm)]
    return " x ".join(number for number, _ in sides) + f" {sides[0][1]}"


def in_unit(value: float, dimension: str, unit: str) -> float:
    """A value in the base unit, turned into the unit written so (a key of `UNITS`)."""
    base = UNITS[dimension][_BASE[dimension]]
    return float(_registry().Quantity(value, base).to(UNITS[dimension][unit]).magnitude)


def digits(value: float) -> str:
    """A number to four significant digits, at most three decimals, no trailing noughts, no exponent."""
    whole = len(str(int(abs(value)))) if abs(value) >= 1 else 0
    text = f"{value:.{max(0, min(3, 4 - whole))}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def pattern(dimension: str) -> str:
    """A regular expression of what may be written, for editors that check a file while it is typed."""
    units = "|".join(sorted(UNITS[dimension], key=len, reverse=True))
    term = rf"([0-9]+(\.[0-9]+)?|([0-9]+ +)?[0-9]+/[0-9]+) *({units})"
    return rf"^[+-]?{term}( +{term})*$" if dimension in _COMPOUND else rf"^[+-]?{term}$"


def _terms(text: str, dimension: str) -> tuple[int, list[tuple[Fraction, str]]]:
    """The sign, and each number with its unit; refuses all that is not a row of those."""
    if len(text) > _LONGEST:
        raise BadInput(f"{_shown(text)} is too long for a {_word(dimension)}", _advice(dimension))
    sign = -1 if text.startswith("-") else 1
    rest = text.lstrip("+-").strip() if text[:1] in "+-" and text[1:2] not in "+-" else text
    if re.fullmatch(_NUMBER, rest):
        raise BadInput(f"{text} has no unit, and a {_word(dimension)} needs one", _advice(dimension, rest), value=text)
    if re.match(r"[0-9]+,[0-9]", rest):
        raise BadInput(
            f"{text} has a comma in its number", "Write a thousand as 1000, one and a half as 1.5.", value=text
        )
    matches = list(_TERM.finditer(rest))
    if not matches or " ".join(match[0] for match in matches) != " ".join(rest.split()):
        raise BadInput(f"{_shown(text)} is not a {_word(dimension)}", _advice(dimension), value=text)
    return sign, [(_number(match[1]), match[2]) for match in matches]


def _number(text: str) -> Fraction:
    """A number such as 24, 1.5, 1/2 or 3 1/2, exactly."""
    total = Fraction(0)
    for piece in text.split():
        if re.fullmatch(r"[0-9]+/0+", piece):
            raise BadInput(f"{text} divides by nothing", "Write a number such as 3 1/2.", value=text)
        total += Fraction(piece)
    return total


def _unit(unit: str, text: str, dimension: str) -> str:
    """The library's name of a unit as written."""
    if unit in UNITS[dimension]:
        return UNITS[dimension][unit]
    for other, units in UNITS.items():
        if unit in units:
            raise BadInput(
                f"{text} is a {_word(other)}, and a {_word(dimension)} is due", _advice(dimension), value=text
            )
    near = _nearest(unit, dimension)
    todo = f"Did you mean {near}? {_advice(dimension)}" if near else _advice(dimension)
    raise BadInput(f"{_shown(text)}: {_shown(unit)} is not a unit of {_word(dimension)} known here", todo, value=text)


_WORDS: Final = {
    "litre": "L", "litres": "L", "liter": "L", "liters": "L", "l": "L", "ml": "mL", "gallon": "gal", "gallons": "gal",
    "gals": "gal", "inch": "in", "inches": "in", '"': "in", "feet": "ft", "foot": "ft", "'": "ft", "metre": "m",
    "metres": "m", "meter": "m", "meters": "m", "lbs": "lb", "pound": "lb", "pounds": "lb", "kilo": "kg", "kgs": "kg",
    "kilos": "kg", "minute": "min", "minutes": "min", "mins": "min", "hour": "h", "hours": "h", "hr": "h", "hrs": "h",
    "day": "d", "days": "d", "sec": "s", "c": "degC", "f": "degF", "°c": "degC", "°f": "degF", "lpm": "L/min",
    "gpm": "gal/min", "pcf": "lb/ft3", "m³": "m3", "kg/m³": "kg/m3", "°": "deg", "degrees": "deg", "cu ft": "ft3",
}  # fmt: skip
"""What people write for a unit known here under another name, in small letters."""


def _nearest(unit: str, dimension: str) -> str | None:
    units = UNITS[dimension]
    meant = _WORDS.get(unit.lower())
    if meant in units:
        return meant
    by_letters = {known.lower(): known for known in units}
    close = difflib.get_close_matches(unit.lower(), by_letters, n=1, cutoff=0.6)
    return by_letters[close[0]] if close else None


def _check_compound(text: str, dimension: str, terms: list[tuple[Fraction, str]]) -> None:
    """Several terms only where they make sense, each unit smaller than the one before it."""
    sizes = [factor(unit, dimension) for _, unit in terms] if dimension in _COMPOUND else []
    if not sizes or any(small >= large for large, small in itertools.pairwise(sizes)):
        raise BadInput(f"{_shown(text)} is not one {_word(dimension)}", _advice(dimension), value=text)


def _to_base(number: float, unit: str, dimension: str) -> float:
    base = UNITS[dimension][_BASE[dimension]]
    return float(_registry().Quantity(number, unit).to(base).magnitude)


@functools.cache
def _registry() -> pint.UnitRegistry[float]:
    """Our own units only: quick to load, and nothing in it that a yard does not use."""
    import pint

    source = importlib.resources.files("blockrun").joinpath("units.txt")
    return pint.UnitRegistry(source.read_text(encoding="utf-8").splitlines())


def _show_time(minutes: float) -> str:
    """Days, hours and minutes, leaving out what is nought."""
    if minutes != int(minutes) or minutes < 0:
        return f"{digits(minutes)} min"
    return " ".join(_nonzero(int(minutes))) or "0 min"


def _nonzero(minutes: int) -> Iterator[str]:
    for length, unit in ((1440, "d"), (60, "h"), (1, "min")):
        number, minutes = divmod(minutes, length)
        if number:
            yield f"{number} {unit}"


def _word(dimension: str) -> str:
    return {"rate": "flow", "temperature_difference": "difference in temperature"}.get(dimension, dimension)


def _advice(dimension: str, number: str = "") -> str:
    """What to write: the user's own number with a unit, or a list of the units."""
    first, second = _BASE[dimension], _US.get(dimension)
    if number:
        return f"Write {number} {first}" + (f" or {number} {second}." if second else ".")
    return f"Write a number and one of {', '.join(UNITS[dimension])}."


def _shown(text: str) -> str:
    """The text as it may stand in a sentence."""
    plain = "".join(char if char.isprintable() else " " for char in text).strip()
    if not plain:
        return "nothing"
    return plain if len(plain) <= _LONGEST else plain[: _LONGEST - 3] + "..."
