"""Weather by the day: a table of lowest and highest temperatures, and rain, wind and humidity where they are known."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from datetime import date, timedelta
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.tables import Table, read_table
from blockrun.site.values import read_day
from blockrun.site.weather.day import NOTHING, Sky
from blockrun.site.weather.days import Weather
from blockrun.site.weather.measures import OPTIONAL, humidity, rain_mm, temperature_c, wind_km_h

_COLUMNS: Final = Columns((("date",), ("min_degC", "min_degF"), ("max_degC", "max_degF")), optional=OPTIONAL)


def read_daily(path: Path) -> Weather:
    """Weather from a table with the columns ``date``, ``min_degC`` and ``max_degC`` (or ``_degF``), in any order.

    It may have ``rain_mm`` (or ``rain_in``), ``wind_km_h`` (or ``wind_m_s``, ``wind_mph``) and
    ``humidity_percent``, each the one that counts for the working hours of the day; their cells may be empty.

    Raises
    ------
    BadInput : with every fault of the table: a cell that cannot be read, a day doubled or left out, a minimum
        over the maximum, or a temperature outside -60 to 60 degC.
    """
    table = read_table(path, _COLUMNS)
    _, low, high = _COLUMNS.chosen(table.columns)
    days: dict[date, tuple[Row, tuple[float, float], Sky]] = {}
    faults: list[BadInput] = []
    for row in table.rows:
        try:
            day = table.read(row, "date", read_day)
            if day in days:
                what = f"{day} is there twice, first in row {days[day][0].number}"
                raise table.place(BadInput(what, "Take one of them out."), row, "date")
            days[day] = (row, _low_and_high(table, row, low, high), _sky(table, row))
        except BadInput as fault:
            faults.append(fault)
    faults += [] if faults else list(_gaps(table, {day: row for day, (row, _, _) in days.items()}))
    if faults:
        raise BadInput.of(faults)
    ordered = [days[day] for day in sorted(days)]
    skies = tuple(sky for _, _, sky in ordered)
    return Weather(
        min(days), tuple(air for _, air, _ in ordered), skies=skies if any(sky != NOTHING for sky in skies) else ()
    )


def _low_and_high(table: Table, row: Row, low: str, high: str) -> tuple[float, float]:
    low_c, high_c = temperature_c(table, row, low), temperature_c(table, row, high)
    if low_c > high_c:
        what = f"the lowest, {table.cell(row, low)}, is over the highest, {table.cell(row, high)}"
        raise table.place(BadInput(what, "Swap or correct them."), row, low)
    return low_c, high_c


def _sky(table: Table, row: Row) -> Sky:
    damp, wind = humidity(table, row), wind_km_h(table, row)
    return Sky((), () if damp is None else (damp,), () if wind is None else (wind,), rain_mm(table, row))


def _gaps(table: Table, rows: dict[date, Row]) -> Iterable[BadInput]:
    days = sorted(rows)
    for before, after in itertools.pairwise(days):
        if after - before > timedelta(days=1):
            missing = before + timedelta(days=1)
            fault = BadInput(f"no row for {missing}", "Add the days left out.", value=str(missing))
            yield table.place(fault, rows[after], "date")
