"""Text with a unit to a number.

What a user may write is narrow on purpose: a number (``24``, ``1.5``, ``1/2``, ``3 1/2``) and a unit, or, for lengths,
times, masses and volumes, several of them from large to small (``7 ft 6 in``, ``1 h 30 min``).
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Final

from blockrun.errors import BadInput
from blockrun.units.convert import to_base
from blockrun.units.known import BASE, COMPOUND, UNITS, US, named, word
from blockrun.units.spelling import nearest, plain, unit_meant

_LONGEST: Final = 60
_NUMBER: Final = r"(?:[0-9]{1,12}\.[0-9]{1,9}|[0-9]{1,9} +[0-9]{1,6}/[0-9]{1,6}|[0-9]{1,6}/[0-9]{1,6}|[0-9]{1,12})"
_TERM: Final = re.compile(rf"({_NUMBER}) *([^\s0-9.+-]\S*(?: +[^\s0-9.+-]\S*)*)")


@dataclass(frozen=True)
class Quantity:
    """A number in the base unit of its dimension, and the unit it was written in."""

    value: float
    unit: str


class Unitless(BadInput):
    """A number stands alone where a unit is due.

    Attributes
    ----------
    dimension : that the unit is to be of, a key of `UNITS`.
    """

    dimension: str


def read(text: str, dimension: str, *, usual: str = "") -> Quantity:
    """A quantity as a user writes it.

    Parameters
    ----------
    text : such as ``220 L``, ``3 1/2 in``, ``7 ft 6 in`` or ``-5 degC``.
    dimension : a key of `UNITS`.
    usual : the unit to propose for a bare number; the base unit unless told.

    Returns
    -------
    The value in the base unit, to twelve digits and nine decimals, and the (first) unit meant.

    Raises
    ------
    BadInput : no number, no unit, an unknown unit or one of another dimension.
    """
    sign, terms = _terms(text, dimension, usual or BASE[dimension])
    if len(terms) > 1:
        _check_compound(text, dimension, terms)
    total = sum(to_base(float(number), dimension, unit) for number, unit in terms) * sign
    if dimension == "temperature":
        total = to_base(sign * float(terms[0][0]), dimension, terms[0][1])
    return Quantity(round(float(f"{total:.12g}"), 9), terms[0][1])


@cache
def factor(unit: str, dimension: str) -> float:
    """How many base units one ``unit`` is (not for temperatures, whose zeros differ)."""
    return read(f"1 {unit}", dimension).value


def size(text: str) -> tuple[Quantity, Quantity, Quantity]:
    """Three lengths from ``600 x 300 x 200 mm`` or ``16 in x 8 in x 8 in``, in the order written.

    A length without a unit takes the last one's.

    Raises
    ------
    BadInput : not three lengths, or one of them cannot be read.
    """
    pieces = re.split(r" *[xX] *", plain(text)) if len(text) <= 3 * _LONGEST else []
    if len(pieces) != 3:
        raise BadInput(
            f"{_shown(text)} is not length x height x thickness", "Write three lengths, for example 600 x 300 x 200 mm."
        )
    if re.fullmatch(_NUMBER, pieces[2]):
        bare = " x ".join(pieces)
        todo = f"Write it behind the last of them, such as {bare} mm or {bare} in."
        raise BadInput(f"{_shown(text)} has no unit for its last length", todo, value=text)
    last = _TERM.fullmatch(pieces[2])
    unit = f" {last[2]}" if last else ""
    whole = [piece + unit if re.fullmatch(_NUMBER, piece) else piece for piece in pieces]
    length, height, thickness = (read(piece, "length") for piece in whole)
    return length, height, thickness


def percent(text: str) -> Decimal:
    """A share of one, exactly, from ``3 %``.

    Raises
    ------
    BadInput : not a number and a per cent sign.
    """
    match = re.fullmatch(r"([+-]?[0-9]{1,6}(?:\.[0-9]{1,6})?) *%", plain(text))
    if not match:
        check_comma(text)
        bare = re.fullmatch(r"[1-9][0-9]{0,5}(?:\.[0-9]{1,6})?", plain(text))  # 0.03 may be meant as 3 %
        todo = f"Write {bare[0]} %." if bare else "Write a number and the % sign, for example 3 %."
        raise BadInput(f"{_shown(text)} is not a percentage", todo)
    return (Decimal(match[1]) / 100).normalize() + 0


def ratio(text: str) -> tuple[float, float]:
    """Two numbers of parts from ``1:40``, both more than zero.

    Raises
    ------
    BadInput : not two positive numbers with a colon between.
    """
    match = re.fullmatch(r"([0-9]{1,6}(?:\.[0-9]{1,6})?) *: *([0-9]{1,6}(?:\.[0-9]{1,6})?)", plain(text))
    check_comma(text)
    if not match or not float(match[1]) or not float(match[2]):
        raise BadInput(f"{_shown(text)} is not a ratio", "Write parts of agent : parts of water, for example 1:40.")
    return float(match[1]), float(match[2])


def pattern() -> str:
    """A regular expression of what may be written, for editors that check a file while it is typed.

    It asks for a number with something behind it; whether that is a unit of the dimension due, `read` says.
    """
    return rf"^[+\u2212-]?(?:{_NUMBER}|[0-9]* ?[½¼¾⅛⅜⅝⅞])\s*[^\s0-9.,+-].*$"


def _terms(text: str, dimension: str, usual: str) -> tuple[int, list[tuple[Fraction, str]]]:
    """The sign, and each number with its unit (a key of `UNITS`); refuses all that is not a row of those."""
    if len(text) > _LONGEST:
        raise BadInput(f"{_shown(text)} is too long for {named(dimension)}", _advice(dimension))
    written = plain(text)
    sign = -1 if written.startswith("-") else 1
    rest = written.lstrip("+-").strip() if written[:1] in ("+", "-") and written[1:2] not in ("+", "-") else written
    _check_number(text, rest, dimension, usual)
    rest = " ".join(re.sub(r"(?<=['\"])(?=[0-9])", " ", rest).split())
    matches = list(_TERM.finditer(rest))
    if not matches or " ".join(match[0] for match in matches) != rest:
        raise BadInput(f"{_shown(text)} is not {named(dimension)}", _advice(dimension), value=text)
    return sign, [(_number(match[1]), _unit(match[2], text, dimension)) for match in matches]


def _check_number(text: str, rest: str, dimension: str, usual: str) -> None:
    """Refuse a number that stands alone, or divides by nothing, and one with a comma."""
    bare = text.strip()
    if re.fullmatch(_NUMBER, rest):
        _number(rest)
        other = US.get(dimension, usual)
        todo = f"{bare} of what? Write {bare} {usual}" + (f" or {bare} {other}." if other != usual else ".")
        fault = Unitless(f"{bare} has no unit, and {named(dimension)} needs one", todo, value=text)
        fault.dimension = dimension
        raise fault
    check_comma(text)
    _check_decimals(text, rest)


def _check_decimals(text: str, rest: str) -> None:
    """Refuse more decimals than are taken, as a spreadsheet writes them."""
    if re.search(r"\.[0-9]{10}", rest):
        nine = re.sub(
            r"[0-9]+\.[0-9]{10,}", lambda found: f"{Decimal(found[0]):.9f}".rstrip("0").rstrip("."), plain(text)
        )
        raise BadInput(f"{_shown(text)} has more than nine decimals", f"Write {nine}.", value=text)


def check_comma(text: str) -> None:
    """Refuse a number with a comma, which may be a thousand or a decimal.

    Raises
    ------
    BadInput : there is one between two digits.
    """
    if re.search(r"[0-9],[0-9]", text):
        todo = "Write a thousand as 1000, one and a half as 1.5."
        raise BadInput(f"{_shown(text)} has a comma in its number", todo, value=text)


def _number(text: str) -> Fraction:
    """A number such as 24, 1.5, 1/2 or 3 1/2, exactly."""
    total = Fraction(0)
    for piece in text.split():
        if re.fullmatch(r"[0-9]+/0+", piece):
            raise BadInput(f"{text} divides by nothing", "Write a number such as 3 1/2.", value=text)
        total += Fraction(piece)
    return total


def _unit(unit: str, text: str, dimension: str) -> str:
    """The key of `UNITS` for a unit as written."""
    meant = unit_meant(unit, dimension)
    if meant:
        return meant
    for other in UNITS:
        if unit_meant(unit, other):
            what = f"{_shown(text)} is {named(other)}, and {named(dimension)} is due"
            raise BadInput(what, _advice(dimension), value=text)
    near = nearest(unit, dimension)
    todo = f"Did you mean {near}? {_advice(dimension)}" if near else _advice(dimension)
    raise BadInput(f"{_shown(text)}: {_shown(unit)} is not a unit of {word(dimension)} known here", todo, value=text)


def _check_compound(text: str, dimension: str, terms: list[tuple[Fraction, str]]) -> None:
    """Several terms only where they make sense, each unit smaller than the one before it."""
    sizes = [to_base(1, dimension, unit) for _, unit in terms] if dimension in COMPOUND else []
    if not sizes or any(small >= large for large, small in itertools.pairwise(sizes)):
        raise BadInput(f"{_shown(text)} is not one {word(dimension)}", _advice(dimension), value=text)


def _advice(dimension: str) -> str:
    return f"Write a number and one of {', '.join(UNITS[dimension])}."


def _shown(text: str) -> str:
    """The text as it may stand in a sentence."""
    plain = "".join(char if char.isprintable() else " " for char in text).strip()
    if not plain:
        return "nothing"
    return plain if len(plain) <= _LONGEST else plain[: _LONGEST - 3] + "..."
