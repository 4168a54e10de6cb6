"""Equivalent age: how many hours at 20 degC the hours in the yard were worth."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final, overload

import numpy as np
import numpy.typing as npt

from blockrun.cure.air import Floats, air_of_days
from blockrun.cure.rates import AgeRule, age_rate, rule_of
from blockrun.errors import OutOfRange
from blockrun.units import MINUTES_A_DAY

if TYPE_CHECKING:
    from blockrun.site import Site, Weather

Ints = npt.NDArray[np.int64]

LONGEST_DAYS: Final = 3660
"""An age not reached in ten years is refused, so that a slip of the pen cannot fill the memory (our choice)."""

NEVER: Final = 10_000_000
"""Minute given for an age that is not reached by a clock with an end; later than any plan."""

SLACK_H: Final = 1e-9
"""An age this close to the one asked for counts as reached: it is rounding, not curing."""

_MIDDLES_H: Final = (np.arange(MINUTES_A_DAY) + 0.5) / 60
"""Middle of each minute of a day, in hours since midnight."""


class AgeClock:
    """Equivalent age between any two minutes, and the minute at which an age is reached.

    The block is taken to be as warm as the air. Ages are summed in one-minute steps, each at the temperature
    of its middle. Minutes are whole and counted from midnight at the start of ``start``; the table behind the
    clock grows as far as it is asked to look.

    Parameters
    ----------
    weather : air by calendar day, from ``start`` on for as long as is asked.
    start : the day whose midnight is minute 0.
    days : days to prepare at once, at most 3660.
    rule : how fast blocks age; that of the European codes unless told.

    Raises
    ------
    OutOfRange : a temperature is outside the limits of the rule.
    """

    def __init__(self, weather: Weather, start: date, days: int = 14, rule: AgeRule = age_rate) -> None:
        self._weather = weather
        self._start = start
        self._rule = rule
        self._age_at: Floats = np.zeros(1)  # shape (minutes + 1,): hours at 20 degC from minute 0 to each minute
        self._grow(days)

    @classmethod
    def of(cls, site: Site, days: int = 14) -> AgeClock:
        """The clock of a site: its weather from the first day of its calendar, by the rule it names."""
        return cls(site.weather, site.calendar.start, days, rule_of(site.curing))

    @property
    def _n_days(self) -> int:
        return (self._age_at.size - 1) // MINUTES_A_DAY

    def _grow(self, n_days: int) -> None:
        """Lengthen the table to a number of days.

        Each day is summed on its own and set on the sum of the days before it: rounding stays small, and the
        ages are the same to the last bit however the table grew.
        """
        if n_days <= self._n_days:
            return
        if n_days > LONGEST_DAYS:
            raise OutOfRange(
                "the minute or the age asked for is more than ten years away",
                name="days",
                value=n_days,
                limit=LONGEST_DAYS,
                unit="d",
                todo="Check the ages asked for, such as strip_at, and the temperatures of the weather.",
            )
        days = [self._weather.day(self._start + timedelta(days=n)) for n in range(self._n_days, n_days)]
        within = np.cumsum(self._rule(air_of_days(days, _MIDDLES_H)) / 60, axis=1)  # (days, minutes of a day)
        before = np.cumsum(np.concatenate((self._age_at[-1:], within[:-1, -1])))
        self._age_at = np.concatenate((self._age_at, (before[:, np.newaxis] + within).ravel()))

    def _upto(self, minutes: Ints) -> Floats:
        """Age from minute 0 to each minute; whole minutes from 0 on, any shape."""
        if minutes.size:
            if minutes.min() < 0:
                raise OutOfRange(
                    "the minute asked for lies before the first day of the clock",
                    name="minute",
                    value=int(minutes.min()),
                    limit=0,
                    unit="min",
                    todo="Start the clock on an earlier day.",
                )
            self._grow(-(-int(minutes.max()) // MINUTES_A_DAY))
        return self._age_at[minutes]

    @overload
    def age_h(self, from_min: int, to_min: int) -> float: ...
    @overload
    def age_h(self, from_min: Ints, to_min: Ints | int) -> Floats: ...
    @overload
    def age_h(self, from_min: int, to_min: Ints) -> Floats: ...
    def age_h(self, from_min: Ints | int, to_min: Ints | int) -> Floats | float:
        """Hours at 20 degC gained between two minutes.

        Parameters
        ----------
        from_min, to_min : whole minutes, 0 <= from_min <= to_min; numbers or arrays that broadcast.

        Returns
        -------
        A number for two numbers, otherwise an array of the common shape.

        Raises
        ------
        OutOfRange : a minute is negative, or ``to_min`` comes before ``from_min``.
        """
        age = self._upto(np.asarray(to_min)) - self._upto(np.asarray(from_min))
        if np.any(age < 0):
            raise OutOfRange(
                "an age cannot run backwards",
                name="age",
                value=float(age.min()),
                limit=0,
                unit="h",
                todo="Ask for the earlier minute first.",
            )
        return age if np.ndim(age) else float(age)

    @overload
    def when(self, from_min: int, hours: float) -> int: ...
    @overload
    def when(self, from_min: Ints, hours: float) -> Ints: ...
    def when(self, from_min: Ints | int, hours: float) -> Ints | int:
        """Earliest whole minute by which an age is reached.

        Parameters
        ----------
        from_min : whole minute at which the age starts, >= 0; a number or an array.
        hours : age in hours at 20 degC, >= 0.

        Returns
        -------
        The least minute m with ``age_h(from_min, m) >= hours``, to within 1e-9 h; same shape as ``from_min``.

        Raises
        ------
        OutOfRange : an argument is outside the limits above, or the age is more than ten years away.
        """
        target = self._upto(np.asarray(from_min)) + _asked(hours) - SLACK_H
        if target.size:
            while self._age_at[-1] < target.max():
                self._grow(max(self._n_days + 1, min(2 * self._n_days, LONGEST_DAYS)))
        minute = np.searchsorted(self._age_at, target, side="left")
        return minute if np.ndim(minute) else int(minute)


def _asked(hours: float) -> float:
    """Return the age asked for, once it is known to be one."""
    if not 0 <= hours < math.inf:
        raise OutOfRange(
            "an age must be zero or more",
            name="hours",
            value=hours,
            limit=0,
            unit="h",
            todo="Write an age of 0 h or more.",
        )
    return hours
