"""How fast water leaves a fresh surface in the wind."""

from __future__ import annotations

import math
from typing import Final

from blockrun.errors import OutOfRange

COLDEST_C: Final = -15.0
HOTTEST_C: Final = 60.0
STRONGEST_KM_H: Final = 150.0


def evaporation_kg_m2_h(surface_c: float, air_c: float, humidity: float, wind_km_h: float) -> float:
    """Water that evaporates from a fresh, wet surface.

    An estimate: measured rates lie within about 40 % of it (Hover, ACI SP-338, 2020, abstract). A wind told for
    ten metres up is stronger than at the surface, and so errs to the side of care.

    Parameters
    ----------
    surface_c, air_c : temperature of the surface and of the air, degC, -15 to 60.
    humidity : relative humidity, 0 to 1.
    wind_km_h : wind half a metre above the surface, km/h, 0 to 150.

    Returns
    -------
    kg/m2 and hour; 0 where water would settle instead.

    Raises
    ------
    OutOfRange : an argument is outside the limits above.

    Source
    ------
    Uno, ACI Materials Journal 95-M34 (1998): 5 ((Tc + 18)^2.5 - r (Ta + 18)^2.5)(V + 4) x 1e-6, formula from memory;
    tests/published/test_evaporation.py checks it against another formula. The limits are our choice.
    """
    limits = {
        "surface": (surface_c, COLDEST_C, HOTTEST_C, "degC"),
        "air": (air_c, COLDEST_C, HOTTEST_C, "degC"),
        "humidity": (humidity, 0.0, 1.0, None),
        "wind": (wind_km_h, 0.0, STRONGEST_KM_H, "km/h"),
    }
    for name, (value, least, most, unit) in limits.items():
        if not least <= value <= most:
            limit = most if value > most else least
            raise OutOfRange(
                f"{name} is outside {least:g} to {most:g}", "Check the weather and its units.",
                name=name, value=value, limit=limit, unit=unit,
            )  # fmt: skip
    drop = math.pow(surface_c + 18, 2.5) - humidity * math.pow(air_c + 18, 2.5)
    return max(0.0, 5e-6 * drop * (wind_km_h + 4))
