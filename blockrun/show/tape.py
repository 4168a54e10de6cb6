"""Lengths as they are read off a tape: to the millimetre, or to the sixteenth of an inch."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

_SIXTEENTH_MM: Final = 25.4 / 16
_MILLIMETRES: Final = re.compile(r"(\d+(?:\.\d+)?(?:(?: x | and )\d+(?:\.\d+)?)*) mm\b")
_NUMBER: Final = re.compile(r"\d+(?:\.\d+)?")


def on_tape(length_mm: float, units: str) -> str:
    """``645``, or ``25 3/8`` where units are ``US``; the unit is said once, by :func:`tape_unit`."""
    if units != "US":
        return str(round(length_mm))
    inches, part = divmod(Fraction(round(length_mm / _SIXTEENTH_MM), 16), 1)
    return " ".join(str(one) for one in (inches, part) if one) or "0"


def tape_unit(units: str) -> str:
    """What :func:`on_tape` says lengths in."""
    return "in" if units == "US" else "mm"


def size_on_tape(units: str, *sides_mm: float) -> str:
    """``1205 x 910 x 200 mm``."""
    return f"{' x '.join(on_tape(side, units) for side in sides_mm)} {tape_unit(units)}"


def words_on_tape(words: str, units: str) -> str:
    """Words with lengths in millimetres, such as ``saw to 163 x 150 mm``, with those that a tape of the yard shows."""
    if units != "US":
        return words
    return _MILLIMETRES.sub(lambda found: f"{_NUMBER.sub(_on_tape, found[1])} {tape_unit(units)}", words)


def _on_tape(found: re.Match[str]) -> str:
    return on_tape(float(found[0]), "US")
