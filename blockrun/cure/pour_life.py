"""The pour life of a batch: in heat as short as its set is fast, said the same wherever it is asked."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.cure.air import air_temperature
from blockrun.cure.hazards import HOT_C, hazards
from blockrun.cure.rates import REFERENCE_C, rule_of

if TYPE_CHECKING:
    from datetime import datetime

    from blockrun.site import Site

WEIGH_MIN: Final = 2
"""Minutes to weigh a batch between blending and pouring (our choice)."""


@dataclass(frozen=True)
class PourLife:
    """How long a batch keeps from the foam going in to the last cavity filled.

    Parameters
    ----------
    minutes : so long; whole ones where heat cuts it.
    hot_c : how warm mix or air is, where heat cuts it; else None.
    measured : whether that was measured in the slurry; else it is the air at the hour of the foam.
    """

    minutes: float
    hot_c: float | None = None
    measured: bool = False

    def leaves_time_to_weigh(self, until_poured_min: float) -> bool:
        """Whether a batch that takes so long from the foam to the end of its pour can be weighed before it."""
        return until_poured_min + WEIGH_MIN <= self.minutes


def pour_life_of(site: Site, slurry_c: float | None = None, foam_at: datetime | None = None) -> PourLife:
    """How long a batch keeps.

    Parameters
    ----------
    site : its ``pour_life``, which is cut when the slurry is over 30 degC, or the day's working hours get so warm.
    slurry_c : measured, 0 to 60; it goes before the air.
    foam_at : when the foam goes in, where that is known; the air of a guessed day cuts nothing.

    Returns
    -------
    The pour life of the site, or on a hot day that at the warmth of the slurry, or of the air at that very hour;
    never more than that of the site.

    Source
    ------
    Our choice.
    """
    air_c = None if foam_at is None else _hot_air(site, foam_at)
    is_hot = air_c is not None or (slurry_c is not None and slurry_c > HOT_C)
    celsius = air_c if slurry_c is None else slurry_c
    if not is_hot or celsius is None:
        return PourLife(site.pour_life_min)
    minutes = math.floor(pour_life_at(site, celsius) + 1e-9)
    if minutes >= site.pour_life_min:
        return PourLife(site.pour_life_min)
    return PourLife(minutes, celsius, slurry_c is not None)


def _hot_air(site: Site, foam_at: datetime) -> float | None:
    """The air when the foam goes in, on a day that is known to get hot in the working hours; else None."""
    air = site.weather.day(foam_at.date())
    if not (air.forecast or air.typical):
        return None
    if hazards(air, site.calendar.open_min, site.calendar.close_min).hot_c is None:
        return None
    return air_temperature(site.weather, foam_at.date(), foam_at.hour + foam_at.minute / 60)


def pour_life_at(site: Site, celsius: float) -> float:
    """Minutes from the foam going in to the last cavity filled, at a temperature.

    Parameters
    ----------
    site : its ``pour_life`` is taken to be that at 20 degC; its ages are by its own rule.
    celsius : of the mix, -60 to 80.

    Returns
    -------
    The pour life, divided by how much sooner the mix ages than at 20 degC.

    Raises
    ------
    OutOfRange : the temperature is outside the limits above.

    Source
    ------
    Our choice.
    """
    rate = rule_of(site.curing)
    return site.pour_life_min * float(rate(REFERENCE_C)) / float(rate(celsius))
