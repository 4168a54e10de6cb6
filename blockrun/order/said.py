"""Lengths as the notes and refusals of walls, domes and drawings say them."""

from __future__ import annotations

from blockrun import units


def mm(length_mm: float) -> str:
    """A length in words, to a tenth of a millimetre."""
    return units.show(round(length_mm, 1), "length")
