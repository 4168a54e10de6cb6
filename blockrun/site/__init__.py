"""What the yard has: mixers, foam generator, moulds, racks, crew, calendar, stock and weather."""

from blockrun.site.calendar import Calendar
from blockrun.site.crew import Absence, Chore, Crew
from blockrun.site.cubes import Cube, Cubes, read_cubes
from blockrun.site.curing import CubeSets, Curing, Rack, Stack
from blockrun.site.lifting import Lifting
from blockrun.site.load import digest_site, load_site, site_schema
from blockrun.site.mixers import Buckets, FoamGenerator, Mixer
from blockrun.site.model import Site
from blockrun.site.moulds import MouldKind, Saw
from blockrun.site.ripeness import Strength
from blockrun.site.stock import (
    AgentDelivery,
    Cement,
    CementDelivery,
    Delivery,
    FoamingAgent,
    MassDelivery,
    ReleaseOil,
    Sand,
    Solid,
    Stock,
    VolumeDelivery,
)
from blockrun.site.weather import DayWeather, Sky, TypicalYear, Weather, read_weather

__all__ = [
    "Absence",
    "AgentDelivery",
    "Buckets",
    "Calendar",
    "Cement",
    "CementDelivery",
    "Chore",
    "Crew",
    "Cube",
    "CubeSets",
    "Cubes",
    "Curing",
    "DayWeather",
    "Delivery",
    "FoamGenerator",
    "FoamingAgent",
    "Lifting",
    "MassDelivery",
    "Mixer",
    "MouldKind",
    "Rack",
    "ReleaseOil",
    "Sand",
    "Saw",
    "Site",
    "Sky",
    "Solid",
    "Stack",
    "Stock",
    "Strength",
    "TypicalYear",
    "VolumeDelivery",
    "Weather",
    "digest_site",
    "load_site",
    "read_cubes",
    "read_weather",
    "site_schema",
]
