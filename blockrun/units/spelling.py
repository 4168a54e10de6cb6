"""What people write beside the plain form of a unit, and only what can mean nothing else.

``gallons`` and ``tons`` are two things in two countries, ``ML`` is a million litres to the letter and ``c`` no
temperature: such are left to be refused, with `nearest` to say what was probably meant.
"""

from __future__ import annotations

import difflib
import functools
import re
from collections.abc import Mapping
from typing import Final

from blockrun.units.known import UNITS

_SIGNS: Final = str.maketrans(
    {
        **dict.fromkeys(
            "\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f", " "
        ),
        "\N{MINUS SIGN}": "-",
        "\N{MULTIPLICATION SIGN}": "x",
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{DOUBLE PRIME}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{SUPERSCRIPT TWO}": "2",
        "\N{SUPERSCRIPT THREE}": "3",
        "\N{MASCULINE ORDINAL INDICATOR}": "°",
        "\N{DEGREE CELSIUS}": "°C",
        "\N{DEGREE FAHRENHEIT}": "°F",
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
    }
)

_PLAIN: Final[Mapping[str, str]] = {
    "L": "l, litre, litres, liter, liters, ltr, ltrs",
    "mL": "ml, millilitre, millilitres, milliliter, milliliters",
    "m3": "cubic metre, cubic metres, cubic meter, cubic meters, cu m",
    "ft3": "cubic foot, cubic feet, cu ft",
    "yd3": "cubic yard, cubic yards, cu yd",
    "gal": "US gal, US gallon, US gallons",
    "imp gal": "imp gallon, imp gallons, imperial gal, imperial gallon, imperial gallons",
    "mm": "millimetre, millimetres, millimeter, millimeters",
    "cm": "centimetre, centimetres, centimeter, centimeters",
    "m": "metre, metres, meter, meters",
    "in": '", inch, inches',
    "ft": "', foot, feet",
    "yd": "yard, yards, yds",
    "kg": "kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes",
    "g": "gram, grams, gramme, grammes",
    "t": "tonne, tonnes",
    "lb": "lbs, pound, pounds",
    "oz": "ounce, ounces",
    "s": "sec, secs, second, seconds",
    "min": "mins, minute, minutes",
    "h": "hr, hrs, hour, hours",
    "d": "day, days",
    "week": "wk, wks",
    "degC": "°C, C, Celsius, °Celsius",
    "degF": "°F, F, Fahrenheit, °Fahrenheit",
    "deg": "°",
    "lbf": "lb, lbs, pound, pounds",
    "lb/ft3": "pcf",
    "L/min": "lpm",
    "ft3/min": "cfm",
}
"""Other spellings of each unit, in whichever dimension that unit is known."""

_DOUBTFUL: Final = {"gallon": "gal", "gallons": "gal", "gals": "gal", "gpm": "gal/min", "c": "degC", "f": "degF"}
"""What is not read, since it may be something else, and what is asked back."""


def plain(text: str) -> str:
    """The text with plain spaces, minus, times and inch signs for their typographer's forms; ``3½`` as ``3 1/2``."""
    return text.translate(_SIGNS).strip()


@functools.cache
def spellings(dimension: str) -> Mapping[str, str]:
    """Other spellings that are read for the units of a dimension; each with the key of `UNITS` it stands for."""
    words = [(word, unit) for unit, written in _PLAIN.items() for word in written.split(", ")]
    found = {word: unit for word, unit in words if unit in UNITS[dimension]}
    for unit in UNITS[dimension]:
        mass_or_volume, stroke, per = unit.partition("/")
        if stroke:
            over = [mass_or_volume, *(word for word, meant in words if meant == mass_or_volume)]
            under = [per, *(word for word, meant in words if meant == per)]
            found |= {f"{top}/{below}": unit for top in over for below in under}
    return {word: unit for word, unit in found.items() if word not in UNITS[dimension]}


def unit_meant(written: str, dimension: str) -> str | None:
    """The key of `UNITS` that a unit as written stands for, or None when it is none or could be two things."""
    for word in (written, _squeezed(written)):
        for known in (word, _folded(word)):
            if known in UNITS[dimension]:
                return known
            if known in _by_small_letters(dimension):
                return _by_small_letters(dimension)[known]
            if known in spellings(dimension):
                return spellings(dimension)[known]
    return None


def nearest(written: str, dimension: str) -> str | None:
    """The unit that was probably meant by one that is not known."""
    doubtful = _DOUBTFUL.get(written.lower())
    if doubtful in UNITS[dimension]:
        return doubtful
    by_letters = dict(_by_small_letters(dimension)) | {known.lower(): known for known in UNITS[dimension]}
    close = difflib.get_close_matches(written.lower(), by_letters, n=1, cutoff=0.6)
    return by_letters[close[0]] if close else None


def _squeezed(unit: str) -> str:
    """A unit without what makes no difference: ``kg / m^3``, ``kg per m3``, ``degrees C``."""
    unit = re.sub(r" *(?:/|\bper\b) *", "/", re.sub(r"\^([23])", r"\1", unit))
    unit = re.sub(r"^(?:degrees?|degs?|°) *", "°", unit, flags=re.IGNORECASE)
    return " ".join(unit.split())


def _folded(unit: str) -> str:
    """A word in small letters, unless a capital makes it another unit: ``M`` in front is a million, ``C`` a scale."""
    parts = unit.split("/")
    return "/".join(part if len(part) == 1 or re.fullmatch("M[A-Za-z]", part) else part.lower() for part in parts)


@functools.cache
def _by_small_letters(dimension: str) -> Mapping[str, str]:
    """Known units and their spellings of more than one letter, by their small letters."""
    known = {unit: unit for unit in UNITS[dimension]} | dict(spellings(dimension))
    return {word.lower(): unit for word, unit in known.items() if len(word) > 1}
