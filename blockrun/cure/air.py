"""Air temperature at any hour of a day: as given by the hour, or from that day's lowest and highest."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from blockrun.site import DayWeather, Weather

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


def air_of_days(days: Sequence[DayWeather], hours: Floats) -> Floats:
    """Air temperature at hours of several days.

    Parameters
    ----------
    days : their air; by the hour where that is known, else between lowest and highest.
    hours : shape (n,), since midnight, 0 to 24.

    Returns
    -------
    Shape (n_days, n), in degC: straight between the values of a day known by the hour, else as `air_between`.
    """
    lowest, highest = np.array([[[air.min_c], [air.max_c]] for air in days]).swapaxes(0, 1)  # each (n_days, 1)
    air_c = air_between(lowest, highest, hours)
    for row, day in enumerate(days):
        if day.sky.air_c:
            air_c[row] = np.interp(hours, np.arange(len(day.sky.air_c)), day.sky.air_c)
    return air_c


def air_temperature(weather: Weather, day: date, hour: float) -> float:
    """Air temperature at an hour of a calendar day, in degC.

    Parameters
    ----------
    weather : air by calendar day; each day uses its own, so the curve may step at midnight.
    day : the calendar day.
    hour : hours since its midnight, 0 to 24.
    """
    return float(air_of_days([weather.day(day)], np.array([hour], dtype=np.float64))[0, 0])
