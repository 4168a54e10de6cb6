"""Days on which the weather stops every pour: too hot, too wet, or too cold before the strip."""

from __future__ import annotations

from datetime import date, timedelta

from blockrun import units
from blockrun.files.day_names import day_name
from blockrun.site import Site


def why_stopped(site: Site, day: date) -> str:
    """Say what of a day's weather is over a limit on pouring; empty where nothing is.

    Rain that is not known stops nothing.
    """
    curing, air = site.curing, site.weather.day(day)
    said = []
    if curing.most_air_c is not None and air.max_c > curing.most_air_c:
        high, most = (units.show_degrees(value, site.units) for value in (air.max_c, curing.most_air_c))
        said.append(f"the air rises to {high}, and {most} is the most")
    rain_mm = air.sky.rain_mm
    if curing.rain_stops_mm is not None and rain_mm is not None and rain_mm > curing.rain_stops_mm:
        fall, most = (units.show(value, "length", site.units) for value in (rain_mm, curing.rain_stops_mm))
        said.append(f"{fall} of rain, and more than {most} stops the pour")
    return "; ".join(said)


def frost_before_strip(site: Site, poured: date, stripped: date) -> date | None:
    """The first day from a pour to the strip, both included, whose air falls under ``least_air``."""
    days = (poured + timedelta(days=n) for n in range((stripped - poured).days + 1))
    return next((day for day in days if site.weather.day(day).min_c < site.curing.least_air_c), None)


def frost_said(site: Site, day: date) -> str:
    """Say how cold a day gets that is too cold for blocks in moulds."""
    cold, least = (
        units.show_degrees(value, site.units) for value in (site.weather.day(day).min_c, site.curing.least_air_c)
    )
    return f"the air falls to {cold} on {day_name(day)}, and {least} is the least until the strip"
