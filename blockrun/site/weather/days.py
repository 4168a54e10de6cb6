"""The air of every day: as forecast, then as in a typical year, or else as in the last days given."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from blockrun.errors import OutOfRange
from blockrun.files.day_names import day_name
from blockrun.site.weather.day import NOTHING, DayWeather, Sky
from blockrun.site.weather.typical import TypicalYear

_DAYS_OF_MEAN: Final = 7


@dataclass(frozen=True)
class Weather:
    """Temperatures of consecutive days, and of those after them.

    Parameters
    ----------
    first : the first day given.
    given : (min, max) in degC of each day from the first; at least one, or a typical year.
    reference : how the site names the file they are from.
    skies : what else is known of each day given; none, or as many as are given.
    typical : the year that days past the last given take their air from.
    """

    first: date
    given: tuple[tuple[float, float], ...]
    reference: str = field(default="the weather file", compare=False, repr=False)
    skies: tuple[Sky, ...] = ()
    typical: TypicalYear | None = None

    @classmethod
    def of_typical(cls, typical: TypicalYear) -> Weather:
        """A typical year alone, without a forecast."""
        return cls(date.min.replace(day=2), (), typical=typical)

    @property
    def last(self) -> date:
        """The last day given; long ago where there is but a typical year."""
        return date.fromordinal(self.first.toordinal() + len(self.given) - 1)

    @property
    def knows_rain(self) -> bool:
        """Whether the rain of any day is known."""
        skies = (*self.skies, *(self.typical.skies if self.typical else ()))
        return any(sky.rain_mm is not None for sky in skies)

    def day(self, day: date) -> DayWeather:
        """The air of a day; beyond the last given that of the typical year, or the mean of the last seven given.

        Raises
        ------
        OutOfRange : the day is before the first given.
        """
        index = day.toordinal() - self.first.toordinal()
        if index < 0:
            raise OutOfRange(
                f"the weather starts on {self.first}, after {day}",
                f"Add the days from {day} on to the weather file.",
                value=day,
                limit=self.first,
            )
        if index < len(self.given):
            return DayWeather(*self.given[index], forecast=True, sky=self.skies[index] if self.skies else NOTHING)
        return self.typical.day(day) if self.typical else self._beyond

    def said_beyond(self) -> str:
        """Say what is taken for the days after the last given."""
        last = day_name(self.last)
        if self.typical is None:
            return f"The forecast ends on {last}; after it the mean of its last seven days is taken."
        typical = f"the typical year of {self.typical.place}"
        if not self.given:
            return f"There is no forecast: all days are those of {typical}."
        return f"Forecast to {last}, then {typical}."

    @functools.cached_property
    def _beyond(self) -> DayWeather:
        tail = self.given[-_DAYS_OF_MEAN:]
        return DayWeather(_mean(low for low, _ in tail), _mean(high for _, high in tail), forecast=False)


def _mean(values: Iterable[float]) -> float:
    numbers = list(values)
    return sum(numbers) / len(numbers)
