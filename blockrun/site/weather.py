"""Daily air temperatures: what was forecast, and what is taken beyond the forecast."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from blockrun.errors import OutOfRange

_DAYS_OF_MEAN = 7


@dataclass(frozen=True)
class DayWeather:
    """The air of one day: lowest and highest temperature in degC, and whether it was given or is a mean."""

    min_c: float
    max_c: float
    forecast: bool


@dataclass(frozen=True)
class Weather:
    """Daily temperatures of consecutive days.

    Parameters
    ----------
    first : the first day given.
    given : (min, max) in degC of each day from the first, at least one.
    """

    first: date
    given: tuple[tuple[float, float], ...]

    @property
    def last(self) -> date:
        """The last day given."""
        return date.fromordinal(self.first.toordinal() + len(self.given) - 1)

    def day(self, day: date) -> DayWeather:
        """Temperatures of a day; beyond the last given, the mean of the last seven given.

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
        return DayWeather(*self.given[index], forecast=True) if index < len(self.given) else self._beyond

    @functools.cached_property
    def _beyond(self) -> DayWeather:
        tail = self.given[-_DAYS_OF_MEAN:]
        return DayWeather(_mean(low for low, _ in tail), _mean(high for _, high in tail), forecast=False)


def _mean(values: Iterable[float]) -> float:
    numbers = list(values)
    return sum(numbers) / len(numbers)


class _Reference:
    """A field that a file gives as the name of a weather file."""

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.is_instance_schema(Weather)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string", "examples": ["weather.csv"]}


WeatherFile = Annotated[Weather, _Reference()]
