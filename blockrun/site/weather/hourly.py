"""Weather by the hour: a table of readings, from which each whole day takes its air from midnight to midnight."""

from __future__ import annotations

import itertools
import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.tables import Table, read_table
from blockrun.site.values import read_day, shorten
from blockrun.site.weather.day import HOURS, Sky
from blockrun.site.weather.days import Weather
from blockrun.site.weather.measures import OPTIONAL, humidity, rain_mm, temperature_c, wind_km_h

COLUMNS: Final = Columns((("time",), ("air_degC", "air_degF")), optional=OPTIONAL)
_READING: Final = re.compile(
    r"(?P<day>\S+?)(?:[ T]+(?P<hour>[01]?[0-9]|2[0-3]|24(?=:00(?::00(?:\.0+)?)?$)):(?P<minute>[0-5][0-9])"
    r"(?::[0-5][0-9](?:\.[0-9]+)?)?)?",
    re.ASCII,
)
"""A day and a time of it, whose seconds are passed over; 24:00 is the midnight that ends it."""
_LONGEST_GAP: Final = timedelta(hours=6)
_LONGEST_EDGE: Final = timedelta(hours=3)


@dataclass(frozen=True)
class _Reading:
    row: Row
    at: datetime
    air_c: float
    humidity: float | None
    wind_km_h: float | None
    rain_mm: float | None


def read_hourly(path: Path) -> Weather:
    """Weather from a table with the columns ``time`` and ``air_degC`` (or ``_degF``), in any order.

    It may have the columns that a daily table may have; rain is what fell since the reading before. Readings are
    local times, at most six hours apart, and the air runs straight between them. A first or last day of which more
    than three hours are not known is left out.

    Raises
    ------
    BadInput : with every fault of the table: a cell that cannot be read, a time doubled, a longer gap, or no
        whole day.
    """
    table = read_table(path, COLUMNS)
    readings, faults = _readings(table)
    faults += [] if faults else list(_gaps(table, readings))
    days = [] if faults else list(_whole_days(readings))
    if not faults and not days:
        faults = [table.place(BadInput("not one whole day is given", "Add the hours left out."), table.rows[0], "time")]
    if faults:
        raise BadInput.of(faults)
    skies = tuple(_skies(readings, days))
    given = tuple(_lowest_and_highest(readings, day, sky) for day, sky in zip(days, skies, strict=True))
    return Weather(days[0], given, skies=skies)


def read_time(text: str) -> datetime:
    """A local day and time such as ``2027-04-05 14:00``; a day alone is its midnight.

    Raises
    ------
    BadInput : anything else.
    """
    match = _READING.fullmatch(text.strip())
    if not match:
        todo = "Write the local day and time, for example 2027-04-05 14:00."
        raise BadInput(f"{shorten(text)} is not a day and a time", todo, value=text)
    return _midnight(read_day(match["day"])) + timedelta(
        hours=int(match["hour"] or 0), minutes=int(match["minute"] or 0)
    )


def _readings(table: Table) -> tuple[list[_Reading], list[BadInput]]:
    """Readings by their time, and what is wrong with the others."""
    air = COLUMNS.chosen(table.columns)[1]
    found: dict[datetime, _Reading] = {}
    faults: list[BadInput] = []
    for row in table.rows:
        try:
            at = table.read(row, "time", read_time)
            if at in found:
                what = f"{at:%Y-%m-%d %H:%M} is there twice, first in row {found[at].row.number}"
                raise table.place(BadInput(what, "Take one of them out."), row, "time")
            more = humidity(table, row), wind_km_h(table, row), rain_mm(table, row)
            found[at] = _Reading(row, at, temperature_c(table, row, air), *more)
        except BadInput as fault:
            faults.append(fault)
    return [found[at] for at in sorted(found)], faults


def _gaps(table: Table, readings: Sequence[_Reading]) -> Iterator[BadInput]:
    for before, after in itertools.pairwise(readings):
        if after.at - before.at > _LONGEST_GAP:
            what = f"there is no reading for more than six hours after {before.at:%Y-%m-%d %H:%M}"
            yield table.place(BadInput(what, "Add the hours left out."), after.row, "time")


def _whole_days(readings: Sequence[_Reading]) -> Iterator[date]:
    day, last = readings[0].at.date(), readings[-1].at
    if readings[0].at > _midnight(day) + _LONGEST_EDGE:
        day += timedelta(days=1)
    while _midnight(day) + timedelta(days=1) <= last + _LONGEST_EDGE:
        yield day
        day += timedelta(days=1)


def _lowest_and_highest(readings: Sequence[_Reading], day: date, sky: Sky) -> tuple[float, float]:
    """Of all readings of the day and of both its midnights: a frost may come and go between two whole hours."""
    first, last = (bisect_left(readings, _midnight(day + timedelta(days=n)), key=lambda one: one.at) for n in (0, 1))
    air_c = [sky.air_c[0], *(one.air_c for one in readings[first:last]), sky.air_c[-1]]
    return min(air_c), max(air_c)


def _skies(readings: Sequence[_Reading], days: Sequence[date]) -> Iterator[Sky]:
    air = _Line([(one.at, one.air_c) for one in readings])
    damp = _Line([(one.at, one.humidity) for one in readings if one.humidity is not None])
    wind = _Line([(one.at, one.wind_km_h) for one in readings if one.wind_km_h is not None])
    rain: dict[date, float] = {}
    for one in readings:
        if one.rain_mm is not None:
            day = (one.at - timedelta(microseconds=1)).date()
            rain[day] = rain.get(day, 0.0) + one.rain_mm
    for day in days:
        hours = [_midnight(day) + timedelta(hours=hour) for hour in range(HOURS)]
        yield Sky(air.at(hours), damp.at(hours), wind.at(hours), rain.get(day))


class _Line:
    """Values at moments, straight between them and level beyond them; nothing where there are none."""

    def __init__(self, points: Sequence[tuple[datetime, float]]) -> None:
        self._moments = [moment for moment, _ in points]
        self._values = [value for _, value in points]

    def at(self, moments: Sequence[datetime]) -> tuple[float, ...]:
        return tuple(map(self._one, moments)) if self._values else ()

    def _one(self, moment: datetime) -> float:
        after = bisect_left(self._moments, moment)
        if after in (0, len(self._moments)):
            return self._values[min(after, len(self._moments) - 1)]
        start, end = self._moments[after - 1], self._moments[after]
        low, high = self._values[after - 1], self._values[after]
        return low + (high - low) * ((moment - start) / (end - start))


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time())
