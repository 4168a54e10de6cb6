"""The pour life of a batch: in heat as much shorter as its set is faster, said the same wherever it is asked."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.cure.air import air_of_days, air_temperature
from blockrun.cure.hazards import HOT_C
from blockrun.cure.rates import rule_of

if TYPE_CHECKING:
    from datetime import date, datetime

    import numpy.typing as npt

    from blockrun.site import DayWeather, Site

OUR_CHOICE: Final = "our choice, no standard"
"""Said of a pour life that heat cuts, wherever that is told."""

TOO_HOT: Final = "too hot at every hour to pour a mix while it keeps"
"""Said of a day on which heat leaves no hour for a pour."""

WEIGH_MIN: Final = 2
"""Minutes to weigh a batch between blending and pouring (our choice)."""

_SPECK = 1e-9
_A_YEAR = 366


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


def holds_up_to_c(site: Site) -> float:
    """The warmest air in which the pour life of a site holds: as it says, else 30 degC."""
    return HOT_C if site.pour_life_up_to_c is None else site.pour_life_up_to_c


def hot_over_c(site: Site) -> float:
    """Over this a day is told to be hot, and slurry that was measured keeps less long.

    It is 30 degC, or the air up to which the pour life holds where that is less. It is never more: shade and cold water
    by which a pour life holds in hotter air show in the slurry.
    """
    return min(HOT_C, holds_up_to_c(site))


def quickest_min(site: Site) -> int:
    """Minutes from the foam to the end of the pour of any batch, at the least."""
    return min(mixer.foam_time_min + mixer.pour_time_min for mixer in site.mixers)


def pour_life_of(site: Site, slurry_c: float | None = None, foam_at: datetime | None = None) -> PourLife:
    """How long a batch keeps.

    Parameters
    ----------
    site : its ``pour_life``, which is cut when the slurry, or else the air, is warmer than it holds up to.
    slurry_c : measured, 0 to 60; it goes before the air.
    foam_at : when the foam goes in, where that is known; the air of a guessed day cuts nothing.

    Returns
    -------
    The pour life of the site; in heat that at the warmth of the slurry, or of the air at that very hour.

    Source
    ------
    Our choice.
    """
    if slurry_c is not None:
        return _cut_over(hot_over_c(site), site, slurry_c, measured=True)
    air_c = None if foam_at is None else _air_known(site, foam_at)
    return PourLife(site.pour_life_min) if air_c is None else pour_life_in(site, air_c)


def pour_life_in(site: Site, air_c: float) -> PourLife:
    """How long a batch keeps whose foam goes in at an air temperature, -60 to 80.

    Raises
    ------
    OutOfRange : the temperature is outside these limits.
    """
    return _cut_over(holds_up_to_c(site), site, air_c, measured=False)


def _cut_over(holds_c: float, site: Site, celsius: float, *, measured: bool) -> PourLife:
    if celsius <= holds_c + _SPECK:
        return PourLife(site.pour_life_min)
    return PourLife(math.floor(float(_lives_at(site, celsius, holds_c)) + _SPECK), celsius, measured)


def pour_lives(site: Site, day: date) -> npt.NDArray[np.float64] | None:
    """How long batches of a day keep, by the minute their foam goes in.

    Returns
    -------
    Minutes, shape ``(1440,)``, as :func:`pour_life_of` has them for the air of that minute; None on a day on which no
    hour cuts the pour life, or of which nobody knows the air.
    """
    return _lives_by_minute(site, site.weather.day(day))


def _lives_by_minute(site: Site, air: DayWeather) -> npt.NDArray[np.float64] | None:
    if not _is_known(air) or max(air.max_c, *air.sky.air_c, air.min_c) <= holds_up_to_c(site):
        return None
    air_c = air_of_days([air], np.arange(1440) / 60)[0]
    hot = air_c > holds_up_to_c(site) + _SPECK
    if not hot.any():
        return None
    return np.where(hot, np.floor(_lives_at(site, air_c, holds_up_to_c(site)) + _SPECK), site.pour_life_min)


def hot_stretches(site: Site, air: DayWeather, until_poured_min: float) -> tuple[tuple[int, int], ...]:
    """The working hours of a day in which a batch sets before it is poured.

    Parameters
    ----------
    air : of the day.
    until_poured_min : from its foam to the last cavity filled.

    Returns
    -------
    The first minute of each stretch in which no such foam goes in, and that after its last; breaks do not end one.
    """
    lives, calendar = _lives_by_minute(site, air), site.calendar
    if lives is None:
        return ()
    hot = np.zeros(len(lives) + 1, dtype=np.int8)  # never so at its end, that all edges come in pairs
    hot[calendar.begins_min : calendar.ends_min] = lives[calendar.begins_min : calendar.ends_min] < until_poured_min
    edges = np.flatnonzero(np.diff(hot, prepend=0))
    return tuple((int(first), int(end)) for first, end in edges.reshape(-1, 2))


def ever_poured_in_time(site: Site, slurry_min: int, until_poured_min: int, wash_min: int) -> bool:
    """Whether there is any working minute within a year at which such a batch is poured while it keeps.

    Parameters
    ----------
    slurry_min, until_poured_min, wash_min : before its foam, from the foam to the last cavity filled, and after that.

    Returns
    -------
    True where no forecast reaches so far, and no typical year: past it nobody knows of heat.
    """
    if site.weather.typical is None:
        return True
    year = (site.calendar.start + timedelta(days=n) for n in range(_A_YEAR))
    return any(
        poured_in_time_on(day, site, slurry_min, until_poured_min, wash_min)
        for day in year
        if site.calendar.is_working(day)
    )


def poured_in_time_on(day: date, site: Site, slurry_min: int, until_poured_min: int, wash_min: int) -> bool:
    """Whether there is any such minute on one working day; parameters as :func:`ever_poured_in_time` has them."""
    calendar, lives = site.calendar, pour_lives(site, day)
    for start, end in calendar.windows:
        foam, last = start + slurry_min, min(end - until_poured_min - wash_min, calendar.last_foam_min)
        if foam <= last and (lives is None or (lives[foam : last + 1] >= until_poured_min).any()):
            return True
    return False


def _is_known(air: DayWeather) -> bool:
    return air.forecast or air.typical


def _air_known(site: Site, foam_at: datetime) -> float | None:
    """The air when the foam goes in; None on a day of which nobody knows it."""
    day = foam_at.date()
    if not _is_known(site.weather.day(day)):
        return None
    return air_temperature(site.weather, day, foam_at.hour + foam_at.minute / 60)


def _lives_at(site: Site, celsius: npt.ArrayLike, holds_c: float) -> npt.NDArray[np.float64]:
    """Minutes at some temperatures: as far as it holds the pour life, then as much less as the mix ages faster."""
    rate = rule_of(site.curing)
    lives: npt.NDArray[np.float64] = site.pour_life_min * rate(holds_c) / rate(np.maximum(celsius, holds_c))
    return lives
