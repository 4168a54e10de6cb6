"""Cells of weather: temperatures, humidity, wind and rain, each in the unit its column names."""

from __future__ import annotations

from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.grid import Row
from blockrun.files.tables import Table
from blockrun.site.values import read_number

COLDEST_C: Final = -60.0
HOTTEST_C: Final = 60.0
"""No air is colder or hotter: the unit is another."""

_HUMIDITY: Final = {"humidity_percent": 0.01}
_WIND: Final = {"wind_km_h": 1.0, "wind_m_s": 3.6, "wind_mph": 1.609344}
_RAIN: Final = {"rain_mm": 1.0, "rain_in": 25.4}
OPTIONAL: Final = (*_HUMIDITY, *_WIND, *_RAIN)
"""Columns that a table of weather may have."""


def temperature_c(table: Table, row: Row, column: str) -> float:
    """A temperature from a column that ends in ``degC`` or ``degF``."""

    def read(text: str) -> float:
        celsius = units.read(f"{text} {column[-4:]}", "temperature").value
        if not COLDEST_C <= celsius <= HOTTEST_C:
            raise BadInput(f"{text} is no air temperature", "Correct it, or the unit in the header.", value=text)
        return celsius

    return table.read(row, column, read, as_number=True)


def humidity(table: Table, row: Row) -> float | None:
    """Relative humidity, 0 to 1; None where the table or the row has none."""
    return _scaled(table, row, _HUMIDITY, 1.0)


def wind_km_h(table: Table, row: Row) -> float | None:
    """Wind in km/h; None where the table or the row has none."""
    return _scaled(table, row, _WIND, 400.0)


def rain_mm(table: Table, row: Row) -> float | None:
    """Rain in mm; None where the table or the row has none."""
    return _scaled(table, row, _RAIN, 2000.0)


def _scaled(table: Table, row: Row, columns: dict[str, float], most: float) -> float | None:
    column = next((name for name in columns if table.cell(row, name)), None)
    if column is None:
        return None

    def read(text: str) -> float:
        value = float(read_number(text)) * columns[column]
        if not 0 <= value <= most:
            raise BadInput(f"{text} cannot be", "Correct it, or the unit in the header.", value=text)
        return value

    return table.read(row, column, read, as_number=True)
