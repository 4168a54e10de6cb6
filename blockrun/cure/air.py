"""Air temperature at any hour of a day, from that day's lowest and highest."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from blockrun.site import Weather

Floats = npt.NDArray[np.float64]

WARMEST_HOUR: Final = 15.0
"""Hour of the day at which the air is warmest (our choice: mid-afternoon, as in most climates)."""


def air_between(min_c: npt.ArrayLike, max_c: npt.ArrayLike, hour: npt.ArrayLike) -> Floats:
    """Air temperature at hours of a day that has this lowest and highest.

    Parameters
    ----------
    min_c, max_c : lowest and highest of the day, degC.
    hour : hours since midnight, 0 to 24. All three may be arrays that broadcast.

    Returns
    -------
    Mean of the range plus half the range x cos(2 pi (hour - 15)/24), in degC.

    Source
    ------
    Our choice: a plain cosine with its top at 15:00 and its foot at 03:00.
    """
    low, high = np.asarray(min_c, dtype=np.float64), np.asarray(max_c, dtype=np.float64)
    wave: Floats = np.cos(2 * np.pi * (np.asarray(hour, dtype=np.float64) - WARMEST_HOUR) / 24)
    return (low + high) / 2 + (high - low) / 2 * wave


def air_temperature(weather: Weather, day: date, hour: float) -> float:
    """Air temperature at an hour of a calendar day, in degC.

    Parameters
    ----------
    weather : ranges by calendar day; each day uses its own, so the curve may step at midnight.
    day : the calendar day.
    hour : hours since its midnight, 0 to 24.
    """
    air = weather.day(day)
    return float(air_between(air.min_c, air.max_c, hour))
