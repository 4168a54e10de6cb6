"""Lengths as the notes and refusals of walls, domes and drawings say them."""

from __future__ import annotations

from blockrun import units


def system_of(*sides_mm: float) -> str:
    """``US`` for sides that are all whole sixteenths of an inch, as whole millimetres hardly ever are, else ``SI``."""
    parts = [side / units.SIXTEENTH_MM for side in sides_mm]
    return "US" if all(abs(part - round(part)) < 1e-6 for part in parts) else "SI"


def mm(length_mm: float) -> str:
    """A length in words, to a tenth of a millimetre; sheets in inches turn what notes say (`show/tape.py`)."""
    return units.show(round(length_mm, 1), "length", "SI")
