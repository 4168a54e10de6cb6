"""Weather files as a site names them: one or several, of the day, of the hour, or of a typical year."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Annotated, Final, cast

from pydantic import GetJsonSchemaHandler, ValidationInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from blockrun.errors import BadInput
from blockrun.files.text import References, read_bytes
from blockrun.files.workbook import is_workbook, read_sheet
from blockrun.site.weather.daily import read_daily
from blockrun.site.weather.day import NOTHING, Sky
from blockrun.site.weather.days import Weather
from blockrun.site.weather.epw import read_typical_year
from blockrun.site.weather.hourly import read_hourly
from blockrun.site.written import Named

_TITLES: Final = 20
"""Lines in which the names of the columns are looked for."""


def read_weather(path: Path) -> Weather:
    """Weather from one file: an EPW file by its ending, a table of hours by its column ``time``, else one of days.

    Raises
    ------
    BadInput : as the readers of these files.
    """
    if path.suffix.lower() == ".epw":
        return Weather.of_typical(read_typical_year(path))
    return read_hourly(path) if _has_times(path) else read_daily(path)


def _has_times(path: Path) -> bool:
    if is_workbook(path):
        rows: Iterable[Sequence[str]] = [row.cells for row in read_sheet(path).rows[:_TITLES]]
    else:
        rows = (re.split("[,;\t]", line) for line in read_bytes(path).decode("utf-8", "replace").splitlines()[:_TITLES])
    return any(cell.strip(' "\ufeff').lower() == "time" for cells in rows for cell in cells)


def join(parts: Sequence[Weather]) -> Weather:
    """Weather from several files: each day from the first of them that gives it, then from the typical year.

    Raises
    ------
    BadInput : there are two typical years, or days are left out between two forecasts.
    """
    typical = [part for part in parts if part.typical]
    if len(typical) > 1:
        what = f"{typical[0].reference} and {typical[1].reference} are both typical years"
        raise BadInput(what, "Take one of them out.")
    days: dict[date, tuple[tuple[float, float], Sky]] = {}
    for part in parts:
        for number, air in enumerate(part.given):
            sky = part.skies[number] if part.skies else NOTHING
            days.setdefault(part.first + timedelta(days=number), (air, sky))
    if not days:
        return typical[0]
    ordered = sorted(days)
    _refuse_gaps(ordered)
    skies = tuple(days[day][1] for day in ordered)
    return Weather(
        ordered[0],
        tuple(days[day][0] for day in ordered),
        ", ".join(part.reference for part in parts),
        skies if any(sky != NOTHING for sky in skies) else (),
        typical[0].typical if typical else None,
    )


def _refuse_gaps(days: Sequence[date]) -> None:
    for before, after in itertools.pairwise(days):
        if after - before > timedelta(days=1):
            missing = before + timedelta(days=1)
            what = f"no weather file has {missing}, between {before} and {after}"
            raise BadInput(what, "Add the days left out to one of them.", value=str(missing))


def _find(reference: str, info: ValidationInfo) -> Weather:
    if not isinstance(info.context, References):
        raise BadInput(f"{reference} is named outside a file", "Read the weather with read_weather first.")
    return replace(read_weather(info.context.find(reference)), reference=reference)


class _OneOrSeveral(Named):
    """A reference to a weather file, or a list of them."""

    def value(self, given: object, info: ValidationInfo) -> object:
        """The weather of the files named, joined."""
        if isinstance(given, list) and given:
            return join([cast(Weather, super(_OneOrSeveral, self).value(one, info)) for one in given])
        return super().value(given, info)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Describe one reference, or a list of them."""
        one = super().__get_pydantic_json_schema__(schema, handler)
        return {"type": ["string", "array"], "minLength": 1, "minItems": 1, "items": one, "examples": one["examples"]}


WeatherFile = Annotated[Weather, _OneOrSeveral("a weather file", "weather.csv", Weather, _find)]
