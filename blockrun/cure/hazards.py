"""What the weather of a day may do to fresh blocks: frost, cold, heat, rain, wind and drying."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.cure.air import air_of_days
from blockrun.cure.evaporation import COLDEST_C, HOTTEST_C, STRONGEST_KM_H, evaporation_kg_m2_h

if TYPE_CHECKING:
    from blockrun.site import DayWeather

FREEZING_C: Final = 0.0
COLD_C: Final = 5.0
"""Air under this is cold weather: ACI topic page on ACI 308.1-11, 40 degF (5 degC)."""

HOT_C: Final = 30.0
"""Air and mix over this shorten the pour life (common practice, no source)."""

DRYING_KG_M2_H: Final = 1.0
"""Evaporation at which a fresh surface cracks: 0.2 lb/ft2 and hour, a supplier's page citing ACI 305, second-hand."""

MAY_DRY_KG_M2_H: Final = 0.7
"""Told too, since an estimate may be some 40 % under what really evaporates."""

RAIN_MM: Final = 1.0
"""Rain of a day that marks fresh tops and thins what is open (our choice)."""

WIND_KM_H: Final = 30.0
"""Wind told where nobody knows how dry it is (our choice)."""


@dataclass(frozen=True)
class Hazards:
    """What a day holds for fresh blocks; None where it does not come near, or is not known.

    Attributes
    ----------
    freezes_c, cold_c : the lowest temperature, where it is under freezing, or else under 5 degC.
    hot_c : the highest temperature of the working hours, where it is over 30 degC, or another limit asked for.
    dries_kg_m2_h : the fastest evaporation of the working hours, where it is 0.7 or more, with the block as warm
        as the air.
    rain_mm : rain of the day, where it is a millimetre or more.
    wind_km_h : the strongest wind of the working hours where it is 30 km/h or more and the humidity is not known.
    """

    freezes_c: float | None = None
    cold_c: float | None = None
    hot_c: float | None = None
    dries_kg_m2_h: float | None = None
    rain_mm: float | None = None
    wind_km_h: float | None = None


def hazards(air: DayWeather, opens_min: int, closes_min: int, hot_over_c: float = HOT_C) -> Hazards:
    """What a day holds for fresh blocks.

    Parameters
    ----------
    air : of the day.
    opens_min, closes_min : its working hours, in minutes since midnight; frost counts at any hour.
    hot_over_c : air over this is heat.
    """
    hours = np.arange(math.floor(opens_min / 60), math.ceil(closes_min / 60) + 1)
    temperatures_c = air_of_days([air], hours.astype(np.float64))[0]
    hottest_c = float(temperatures_c.max())
    dries = max(_evaporation(air, int(hour), float(air_c)) for hour, air_c in zip(hours, temperatures_c, strict=True))
    wind_km_h = (
        0.0 if air.sky.humidity or not air.sky.wind_km_h else max(_at(air.sky.wind_km_h, int(hour)) for hour in hours)
    )
    return Hazards(
        freezes_c=air.min_c if air.min_c <= FREEZING_C else None,
        cold_c=air.min_c if FREEZING_C < air.min_c < COLD_C else None,
        hot_c=hottest_c if hottest_c > hot_over_c else None,
        dries_kg_m2_h=dries if dries >= MAY_DRY_KG_M2_H else None,
        rain_mm=air.sky.rain_mm if (air.sky.rain_mm or 0.0) >= RAIN_MM else None,
        wind_km_h=wind_km_h if wind_km_h >= WIND_KM_H else None,
    )


def _evaporation(air: DayWeather, hour: int, air_c: float) -> float:
    """Evaporation at an hour; none where wind or humidity is not known, or where it is far too cold for it."""
    wind, humidity = air.sky.wind_km_h, air.sky.humidity
    if not wind or not humidity or not COLDEST_C <= air_c <= HOTTEST_C:
        return 0.0
    return evaporation_kg_m2_h(air_c, air_c, _at(humidity, hour), min(_at(wind, hour), STRONGEST_KM_H))


def _at(values: tuple[float, ...], hour: int) -> float:
    """The value of an hour, or that of the day."""
    return values[hour] if len(values) > 1 else values[0]
