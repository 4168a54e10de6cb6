"""A typical year from an EPW file: eight lines of header, then a line for each hour of a year."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.day_names import short_day_name
from blockrun.files.separated import records, start_of
from blockrun.files.text import read_text, split_lines
from blockrun.site.values import shorten
from blockrun.site.weather.day import Sky
from blockrun.site.weather.typical import DAYS, TypicalYear

_HEADER_LINES: Final = 8
_HOURS_A_DAY: Final = 24
_LONGEST_GAP_H: Final = 6
_TODO: Final = "Check the file, or fetch it again."


@dataclass(frozen=True)
class _Column:
    """A column of the format: its place from 0, what it is called, and what stands for a missing value."""

    index: int
    name: str
    missing: float
    least: float
    most: float


_AIR: Final = _Column(6, "dry bulb temperature", 99.9, -70, 70)
_HUMIDITY: Final = _Column(8, "relative humidity", 999, 0, 110)
_WIND: Final = _Column(21, "wind speed", 999, 0, 40)
_RAIN: Final = _Column(33, "rain", 999, 0, 500)


@dataclass(frozen=True)
class _Hour:
    number: int
    text: str
    cells: Sequence[str]


def read_typical_year(path: Path) -> TypicalYear:
    """The typical year in an EPW file.

    Air that is missing for up to six hours runs straight between the hours about it. Hour 1 is the reading at
    01:00. Of a leap year 29 February is left out. Rain counts only where any is told.

    Raises
    ------
    BadInput : it is no EPW file, an hour is left out or out of order, or air cannot be read or is missing for longer.

    Source
    ------
    EnergyPlus Weather format: dry bulb in column 7 (99.9 missing), humidity in 9, wind in 22 (m/s), rain in 34 (mm).
    """
    lines = split_lines(read_text(path))
    if not lines[0].upper().startswith("LOCATION,"):
        what = "is no EPW file: its first line does not start with LOCATION"
        raise BadInput(what, _TODO, file=path, line=1, text=lines[0])
    place = lines[0].split(",")[1].strip(' "')
    hours = list(_hours(path, lines))
    _check_order(path, hours)
    hours = [
        hour for hour in hours if (hour.cells[1].strip(), hour.cells[2].strip()) not in (("2", "29"), ("02", "29"))
    ]
    return TypicalYear(shorten(place) if place else path.name, tuple(_skies(path, hours)))


def _hours(path: Path, lines: list[str]) -> Iterator[_Hour]:
    below = [""] * _HEADER_LINES + lines[_HEADER_LINES:]  # comments in the header may have any quotes
    for row in records(path, below, ","):
        text, cells, number = below[row.number - 1], row.cells, row.number
        if not text.strip():
            continue
        if len(cells) <= _WIND.index:
            what = f"has {len(cells)} values, and an hour of an EPW file has 35"
            raise BadInput(what, _TODO, file=path, line=number, text=text)
        yield _Hour(number, text, cells)


def _check_order(path: Path, hours: Sequence[_Hour]) -> None:
    leap = len(hours) == (DAYS + 1) * _HOURS_A_DAY
    if not leap and len(hours) != DAYS * _HOURS_A_DAY:
        what = f"has {len(hours)} lines of hours, and a year of single hours has {DAYS * _HOURS_A_DAY}"
        raise BadInput(what, "Take a file of one value an hour for the whole year.", file=path, line=_HEADER_LINES + 1)
    first = date(2000 if leap else 2001, 1, 1)
    for index, hour in enumerate(hours):
        day, due = first + timedelta(days=index // _HOURS_A_DAY), index % _HOURS_A_DAY + 1
        if [cell.strip().lstrip("0") for cell in hour.cells[1:4]] != [str(day.month), str(day.day), str(due)]:
            what = f"hour {due} of {short_day_name(day)} is due here"
            raise BadInput(what, _TODO, file=path, line=hour.number, column=1, text=hour.text)


def _skies(path: Path, hours: Sequence[_Hour]) -> Iterator[Sky]:
    air = _whole(path, hours, _AIR, _LONGEST_GAP_H)
    damp = [min(value / 100, 1.0) for value in _whole(path, hours, _HUMIDITY)]
    wind = [3.6 * value for value in _whole(path, hours, _WIND)]
    rain = [_value(path, hour, _RAIN) or 0.0 for hour in hours]
    rains = any(rain)
    for day in range(DAYS):
        # the first midnight is the last hour of the day before; of 1 January that of 31 December
        places = range(day * _HOURS_A_DAY - 1, (day + 1) * _HOURS_A_DAY)
        fell = sum(rain[place] for place in places[1:]) if rains else None
        yield Sky(_at(air, places), _at(damp, places), _at(wind, places), fell)


def _at(values: Sequence[float], places: range) -> tuple[float, ...]:
    return tuple(values[place] for place in places) if values else ()


def _whole(path: Path, hours: Sequence[_Hour], column: _Column, longest: int | None = None) -> list[float]:
    """The values of a column, missing ones straight between those about them; none where the column is all missing."""
    known = {place: value for place, hour in enumerate(hours) if (value := _value(path, hour, column)) is not None}
    if not known and longest is not None:
        raise _refused(path, hours[0], column, "is missing all year")
    filled = [known.get(place, 0.0) for place in range(len(hours))] if known else []
    for before, after in _gaps(sorted(known), len(hours)):
        if longest is not None and after - before > longest + 1:
            raise _refused(path, hours[(before + 1) % len(hours)], column, f"is missing for more than {longest} hours")
        low, high = known[before], known[after % len(hours)]
        for place in range(before + 1, after):
            filled[place % len(hours)] = low + (high - low) * (place - before) / (after - before)
    return filled


def _gaps(known: Sequence[int], n: int) -> Iterator[tuple[int, int]]:
    """Known places with unknown ones between them; the year goes round, so the last may be past its end."""
    pairs = zip(known, [*known[1:], known[0] + n], strict=True) if known else ()
    return ((before, after) for before, after in pairs if after > before + 1)


def _value(path: Path, hour: _Hour, column: _Column) -> float | None:
    text = hour.cells[column.index].strip() if column.index < len(hour.cells) else ""
    try:
        value = float(text) if text else column.missing
    except ValueError:
        value = float("nan")
    if value >= column.missing:
        return None
    if not column.least <= value <= column.most:
        raise _refused(path, hour, column, f"{shorten(text)} cannot be")
    return value


def _refused(path: Path, hour: _Hour, column: _Column, why: str) -> BadInput:
    at = start_of(hour.text, ",", column.index)
    return BadInput(f"{column.name}: {why}", _TODO, file=path, line=hour.number, column=at, text=hour.text)
