"""The pour life of a batch: in heat as much shorter as its set is faster, said the same wherever it is asked."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.cure.air import air_temperature
from blockrun.cure.hazards import HOT_C
from blockrun.cure.rates import rule_of

if TYPE_CHECKING:
    from datetime import datetime

    from blockrun.site import Site

OUR_CHOICE: Final = "our choice, no standard"
"""Said of a pour life that heat cuts, wherever that is told."""

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

    def leaves_time_to_pour(self, until_poured_min: float) -> bool:
        """Whether a batch that takes so long from the foam to the end of its pour is poured while it keeps."""
        return until_poured_min <= self.minutes

    def leaves_time_to_weigh(self, until_poured_min: float) -> bool:
        """Whether it can be weighed before its pour, too."""
        return self.leaves_time_to_pour(until_poured_min + WEIGH_MIN)


def pour_life_of(site: Site, slurry_c: float | None = None, foam_at: datetime | None = None) -> PourLife:
    """How long a batch keeps.

    Parameters
    ----------
    site : its ``pour_life``, which is cut when the slurry, or else the air, is over 30 degC.
    slurry_c : measured, 0 to 60; it goes before the air.
    foam_at : when the foam goes in, where that is known; the air of a guessed day cuts nothing.

    Returns
    -------
    The pour life of the site; in heat that at the warmth of the slurry, or of the air at that very hour.

    Source
    ------
    Our choice.
    """
    celsius = slurry_c
    if celsius is None and foam_at is not None:
        celsius = _air_known(site, foam_at)
    if celsius is None or celsius <= HOT_C:
        return PourLife(site.pour_life_min)
    return PourLife(math.floor(pour_life_at(site, celsius) + 1e-9), celsius, slurry_c is not None)


def _air_known(site: Site, foam_at: datetime) -> float | None:
    """The air when the foam goes in; None on a day of which nobody knows it."""
    day = foam_at.date()
    air = site.weather.day(day)
    if not (air.forecast or air.typical):
        return None
    return air_temperature(site.weather, day, foam_at.hour + foam_at.minute / 60)


def pour_life_at(site: Site, celsius: float) -> float:
    """Minutes from the foam going in to the last cavity filled, at a temperature.

    Parameters
    ----------
    site : its ``pour_life``, and the rule of its ages.
    celsius : of the mix, -60 to 80.

    Returns
    -------
    The pour life of the site up to 30 degC, for whoever measured it did so in the air of their yard; over that it is
    divided by how much faster the mix ages than at 30 degC.

    Raises
    ------
    OutOfRange : the temperature is outside the limits above.

    Source
    ------
    Our choice, no standard.
    """
    rate = rule_of(site.curing)
    return site.pour_life_min * float(rate(HOT_C)) / float(rate(max(celsius, HOT_C)))
