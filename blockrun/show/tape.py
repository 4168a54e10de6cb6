"""Lengths as they are read off a tape: to the millimetre, or to the sixteenth of an inch."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable
from fractions import Fraction
from typing import Final

from blockrun.units import SIXTEENTH_MM, UNITS, show_size

_LENGTHS: Final = re.compile(r"(?<![/\d.])(\d+(?:\.\d+)?(?:(?: x | and | to )\d+(?:\.\d+)?)*) (mm|in)\b")
_TO_WRITE: Final = re.compile(r"(\b[Ww]rite\b(?:[^,;.]|\.(?=\d))*)")
_NUMBER: Final = re.compile(r"\d+(?:\.\d+)?")


def on_tape(length_mm: float, units: str) -> str:
    """``645``, or ``25 3/8`` where units are ``US``; the unit is said once, by :func:`tape_unit`."""
    if units != "US":
        return str(round(length_mm))
    inches, part = divmod(Fraction(round(length_mm / SIXTEENTH_MM), 16), 1)
    return " ".join(str(one) for one in (inches, part) if one) or "0"


def tape_unit(units: str) -> str:
    """What :func:`on_tape` says lengths in."""
    return "in" if units == "US" else "mm"


def size_on_tape(units: str, *sides_mm: float) -> str:
    """``1205 x 910 x 200 mm``."""
    return f"{' x '.join(on_tape(side, units) for side in sides_mm)} {tape_unit(units)}"


def size_said(units: str, length_mm: float, height_mm: float, thickness_mm: float) -> str:
    """``600 x 300 x 200 mm``, to a fraction of a millimetre, or as a tape shows it where units are ``US``."""
    sides = length_mm, height_mm, thickness_mm
    return size_on_tape(units, *sides) if units == "US" else show_size(*sides, units)


def words_on_tape(words: str, units: str) -> str:
    """Words with lengths, such as ``saw to 163 x 150 mm`` or ``to 9.375 in high``, as a tape of the yard shows them."""
    return _LENGTHS.sub(_on_tape, words) if units == "US" else words


def note_on_tape(note: str) -> str:
    """A note with its inches in sixteenths: ``End joints are 7/16 in``.

    What is to be written, from ``write`` to the end of its clause, is to be laid as written: it is left to the
    thousandth where it is no whole sixteenth. Millimetres are left as they are, and so are lengths that differ by less
    than a tape tells: 0.377 in, not 0.375 in.
    """
    said = _TO_WRITE.split(note)
    alike = _alike(said[::2])
    said[::2] = (_LENGTHS.sub(lambda found: _noted(found, alike), one) for one in said[::2])
    said[1::2] = (
        _LENGTHS.sub(lambda found: _noted(found, ()) if _are_sixteenths(found[1]) else found[0], one)
        for one in said[1::2]
    )
    return "".join(said)


def _alike(clauses: Iterable[str]) -> set[str]:
    """Numbers of inches that differ and come to the same sixteenths."""
    lengths = (found for clause in clauses for found in _LENGTHS.finditer(clause) if found[2] == "in")
    numbers = {number for found in lengths for number in _NUMBER.findall(found[1])}
    shown = Counter(_on_tape_in(number, "in") for number in numbers)
    return {number for number in numbers if shown[_on_tape_in(number, "in")] > 1}


def _noted(found: re.Match[str], alike: Collection[str]) -> str:
    if found[2] != "in" or any(number in alike for number in _NUMBER.findall(found[1])):
        return found[0]
    return _on_tape(found)


def _are_sixteenths(lengths: str) -> bool:
    return all((Fraction(number) * 16).denominator == 1 for number in _NUMBER.findall(lengths))


def _on_tape(found: re.Match[str]) -> str:
    return f"{_NUMBER.sub(lambda number: _on_tape_in(number[0], found[2]), found[1])} {tape_unit('US')}"


def _on_tape_in(number: str, unit: str) -> str:
    """A number of some unit in sixteenths of an inch."""
    return on_tape(float(UNITS["length"][unit]) * float(number), "US")
