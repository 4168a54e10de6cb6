"""The yard as its file describes it: one frozen model for each mapping of the file.

An attribute's name ends in the unit its value is kept in; the key in the file is the name without that unit.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, PrivateAttr

from blockrun.errors import BadInput
from blockrun.site.calendar import Calendar
from blockrun.site.crew import Chore, Crew
from blockrun.site.curing import CubeSets, Curing, Rack, Stack
from blockrun.site.fields import Name, Percent, quantity
from blockrun.site.file_model import FileModel
from blockrun.site.lifting import Lifting
from blockrun.site.mixers import Buckets, FoamGenerator, Mixer
from blockrun.site.moulds import MouldKind
from blockrun.site.stock import Stock
from blockrun.site.weather import WeatherFile
from blockrun.site.written import Written


class Site(FileModel):
    """All that a yard has."""

    name: Name = Field(alias="site", examples=["Heron Field yard"])
    units: Annotated[
        Literal["SI", "US"],
        Written("SI or US", "SI", lambda text: _units(text), {"enum": ["SI", "US"]}),
    ] = Field(default="SI", description="Only how results print")
    calendar: Calendar
    mixers: tuple[Mixer, ...] = Field(min_length=1)
    foam_generator: FoamGenerator
    buckets: Buckets | None = Field(default=None, description="Buckets that things are counted and weighed in")
    pour_life_min: Annotated[float, quantity("time", "25 min", above=0, most=1440)] = Field(
        description="From the foam going in to the last cavity filled; a time. Over 30 degC it counts as less"
    )
    pour_life_up_to_c: Annotated[float, quantity("temperature", "35 degC", least=10, most=60)] | None = Field(
        default=None,
        description="The warmest air in which it was seen to hold, with shade and cold water if there are any; a "
        "temperature. 30 degC unless told",
    )
    overfill: Percent = Field(default=0.0, description="Poured above the cavity and struck off")
    moulds: tuple[MouldKind, ...] = Field(min_length=1)
    racks: tuple[Rack, ...] = Field(min_length=1)
    stack: Stack | None = Field(
        default=None,
        description="Ground for blocks off the rack, where it is small: a block takes room there from the day it "
        "leaves the rack to the day it is laid, both included. It is laid on its need date, or when it is ready where "
        "that is later; without a need date, as spares are, when it is ready",
    )
    move_time_min: Annotated[float, quantity("time", "1 min", least=0, most=1440)] = Field(
        description="A block to the rack, one person; a time"
    )
    curing: Curing
    crew: Crew
    chores: tuple[Chore, ...] = ()
    stock: Stock
    test_cubes: CubeSets | None = Field(default=None, description="Sets of cubes that batches give, to be crushed")
    lifting: Lifting = Field(default=Lifting(), description="How blocks are lifted, where some may be too heavy")
    weather: WeatherFile = Field(
        description="One file or several, the forecast first: CSV with date,min_degC,max_degC (or _degF) or with "
        "time,air_degC, or an EPW file of a typical year"
    )
    _sources: dict[str, Path] = PrivateAttr(default_factory=dict)

    @property
    def sources(self) -> dict[str, Path]:
        """Files read: the reference written in the site file to the path read, the site file itself under ``""``."""
        return dict(self._sources)

    def off_rack(self, since: datetime) -> datetime:
        """When blocks leave a rack that they came to at a moment: in working hours, once their time there is over."""
        return self.calendar.next_working_minute(since + timedelta(minutes=self.curing.rack_for_min))


def _units(text: str) -> str:
    if text.strip() not in ("SI", "US"):
        raise BadInput(f"{text} is not a system of units known here", "Write SI or US.", value=text)
    return text.strip()
