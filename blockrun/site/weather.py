"""Daily air temperatures: what was forecast, and what is taken beyond the forecast."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Annotated, Final

from pydantic import ValidationInfo

from blockrun import units
from blockrun.errors import BadInput, OutOfRange
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.tables import Table, read_table
from blockrun.files.text import References
from blockrun.site.fields import Named
from blockrun.site.values import read_day

_DAYS_OF_MEAN: Final = 7
_COLDEST_C: Final = -60.0
_HOTTEST_C: Final = 60.0
_COLUMNS: Final = Columns((("date",), ("min_degC", "min_degF"), ("max_degC", "max_degF")))


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
    reference : how the site names the file they are from.
    """

    first: date
    given: tuple[tuple[float, float], ...]
    reference: str = field(default="the weather file", compare=False, repr=False)

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


def read_weather(path: Path) -> Weather:
    """Weather from a table with the columns ``date``, ``min_degC`` and ``max_degC`` (or ``_degF``), in any order.

    Raises
    ------
    BadInput : with every fault of the table: a cell that cannot be read, a day doubled or left out, a minimum
        over the maximum, or a temperature outside -60 to 60 degC.
    """
    table = read_table(path, _COLUMNS)
    _, low, high = _COLUMNS.chosen(table.columns)
    days: dict[date, tuple[Row, float, float]] = {}
    faults: list[BadInput] = []
    for row in table.rows:
        try:
            day = table.read(row, "date", read_day)
            if day in days:
                what = f"{day} is there twice, first in row {days[day][0].number}"
                raise table.place(BadInput(what, "Take one of them out."), row, "date")
            days[day] = (row, *_low_and_high(table, row, low, high))
        except BadInput as fault:
            faults.append(fault)
    faults += [] if faults else list(_gaps(table, {day: row for day, (row, _, _) in days.items()}))
    if faults:
        raise BadInput.of(faults)
    return Weather(min(days), tuple((low_c, high_c) for _, (_, low_c, high_c) in sorted(days.items())))


def _low_and_high(table: Table, row: Row, low: str, high: str) -> tuple[float, float]:
    low_c, high_c = _temperature(table, row, low), _temperature(table, row, high)
    if low_c > high_c:
        what = f"the lowest, {table.cell(row, low)}, is over the highest, {table.cell(row, high)}"
        raise table.place(BadInput(what, "Swap or correct them."), row, low)
    return low_c, high_c


def _temperature(table: Table, row: Row, column: str) -> float:
    def read(text: str) -> float:
        celsius = units.read(f"{text} {column[-4:]}", "temperature").value
        if not _COLDEST_C <= celsius <= _HOTTEST_C:
            raise BadInput(f"{text} is no air temperature", "Correct it, or the unit in the header.", value=text)
        return celsius

    return table.read(row, column, read, as_number=True)


def _gaps(table: Table, rows: dict[date, Row]) -> Iterable[BadInput]:
    days = sorted(rows)
    for before, after in itertools.pairwise(days):
        if after - before > timedelta(days=1):
            missing = before + timedelta(days=1)
            fault = BadInput(f"no row for {missing}", "Add the days left out.", value=str(missing))
            yield table.place(fault, rows[after], "date")


def _find(reference: str, info: ValidationInfo) -> Weather:
    if reference.lower().endswith(".epw"):
        raise BadInput(
            f"{reference}: EPW weather is not yet read", "Write a CSV file with the columns date,min_degC,max_degC."
        )
    if not isinstance(info.context, References):
        raise BadInput(f"{reference} is named outside a file", "Read the weather with read_weather first.")
    return replace(read_weather(info.context.find(reference)), reference=reference)


WeatherFile = Annotated[Weather, Named("a weather file", "weather.csv", Weather, _find)]
