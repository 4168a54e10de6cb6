"""What the yard has: mixers, foam generator, moulds, racks, crew, calendar, stock and weather."""

from blockrun.site.calendar import Calendar
from blockrun.site.load import digest_site, load_site, site_schema
from blockrun.site.model import (
    Absence,
    AgentDelivery,
    Buckets,
    Cement,
    CementDelivery,
    Chore,
    Crew,
    Curing,
    Delivery,
    FoamGenerator,
    FoamingAgent,
    Mixer,
    MouldKind,
    Rack,
    Saw,
    Site,
    Stock,
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
    "Curing",
    "DayWeather",
    "Delivery",
    "FoamGenerator",
    "FoamingAgent",
    "Mixer",
    "MouldKind",
    "Rack",
    "Saw",
    "Site",
    "Sky",
    "Stock",
    "TypicalYear",
    "Weather",
    "digest_site",
    "load_site",
    "read_weather",
    "site_schema",
]
