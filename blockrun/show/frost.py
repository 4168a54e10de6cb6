"""When it freezes, as far as a forecast or a typical year tells: a mean of other days is no frost."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.cure.air import air_of_days
from blockrun.cure.hazards import FREEZING_C
from blockrun.show.manned import until_somebody_is_there

if TYPE_CHECKING:
    from blockrun.site import DayWeather, Site

MIDNIGHT: Final = 24

_ROUNDING_C: Final = 1e-9


def is_told(air: DayWeather) -> bool:
    """Whether anybody knows the air of a day."""
    return air.forecast or air.typical


def freezes(air: DayWeather) -> bool:
    """Whether there is frost on a day."""
    return is_told(air) and air.min_c <= FREEZING_C


def freezes_between(air: DayWeather, from_hour: float, to_hour: float) -> bool:
    """Whether there is frost in some hours of a day, 0 to 24."""
    hours = np.array([from_hour, *range(int(from_hour) + 1, int(to_hour) + 1)], dtype=np.float64)
    return freezes(air) and bool(air_of_days([air], hours).min() <= FREEZING_C + _ROUNDING_C)


def frost_ahead(day: date, site: Site) -> date | None:
    """The first day of frost after a day, up to the first on which somebody is there; None where there is none."""
    return next((after for after in until_somebody_is_there(day, site) if freezes(site.weather.day(after))), None)


def frost_near(day: date, site: Site) -> bool:
    """Whether there is frost on a day, or after it before somebody is there again."""
    return freezes(site.weather.day(day)) or frost_ahead(day, site) is not None
