"""Absolute volume: the room each material takes when no air is counted."""

from __future__ import annotations

import math
from typing import Final

from blockrun.errors import OutOfRange

LITRES_PER_M3: Final = 1000

CEMENT_KG_M3: Final = 3150.0
"""Particle density of Portland cement: 3.15 x water (US Navy course 14071, p. 17-7)."""

WATER_KG_M3: Final = 1000.0
"""Density of water. Rounded for the yard: true at 4 degC, 0.4 % less at 30 degC."""


def absolute_volume_m3(*materials: tuple[float, float]) -> float:
    """Volume that materials take together, free of air.

    Parameters
    ----------
    materials : pairs of mass in kg, >= 0, and particle density in kg/m3, > 0.

    Returns
    -------
    Sum of mass / density, in m3.

    Raises
    ------
    OutOfRange : a mass is negative, a density is not above zero, or one of them is not a number.

    Source
    ------
    Absolute-volume method, as in US Navy Engineering Aid course 14071, p. 17-7;
    tests/published/test_absolute_volume.py checks its example.
    """
    for mass_kg, density_kg_m3 in materials:
        if not 0 <= mass_kg < math.inf:
            raise OutOfRange(
                "a mass must be zero or more", name="mass", value=mass_kg, limit=0, unit="kg",
                todo="Write a mass of 0 kg or more.",
            )  # fmt: skip
        if not 0 < density_kg_m3 < math.inf:
            raise OutOfRange(
                "a particle density must be above zero", name="density", value=density_kg_m3, limit=0, unit="kg/m3",
                todo="Write the density of the solid particles, such as 3150 kg/m3 for cement.",
            )  # fmt: skip
    return sum(mass_kg / density_kg_m3 for mass_kg, density_kg_m3 in materials)
