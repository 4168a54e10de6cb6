"""What is known of the air of one day."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, NamedTuple

HOURS: Final = 25
"""Values of a day that is known by the hour: from midnight to midnight, both included."""


class Sky(NamedTuple):
    """What may be known of a day beyond its lowest and highest temperature.

    Attributes
    ----------
    air_c : temperatures in degC at 0:00, 1:00 ... 24:00, between which it runs straight; empty where not known.
    humidity : share of saturation, 0 to 1: by the hour like ``air_c``, or one for the day, or empty.
    wind_km_h : likewise, in km/h.
    rain_mm : rain of the day in mm; None where not known.
    """

    air_c: tuple[float, ...] = ()
    humidity: tuple[float, ...] = ()
    wind_km_h: tuple[float, ...] = ()
    rain_mm: float | None = None


NOTHING: Final = Sky()
"""What is known of a day of which only lowest and highest are."""


@dataclass(frozen=True)
class DayWeather:
    """The air of one day: lowest and highest temperature in degC, where they are from, and what else is known.

    Attributes
    ----------
    forecast : it was given for this very day; otherwise it is a guess.
    typical : the guess is from a typical year, not a mean of the last days given.
    """

    min_c: float
    max_c: float
    forecast: bool
    typical: bool = False
    sky: Sky = NOTHING
