"""Days on which the weather alone stops every pour: too hot, or too wet."""

from __future__ import annotations

from datetime import date

from blockrun import units
from blockrun.site import Site


def why_stopped(site: Site, day: date) -> str:
    """Say what of a day's weather is over a limit on pouring; empty where nothing is.

    Rain that is not known stops nothing.
    """
    curing, air = site.curing, site.weather.day(day)
    said = []
    if curing.most_air_c is not None and air.max_c > curing.most_air_c:
        high, most = (units.show(value, "temperature", site.units) for value in (air.max_c, curing.most_air_c))
        said.append(f"the air rises to {high}, and {most} is the most")
    rain_mm = air.sky.rain_mm
    if curing.rain_stops_mm is not None and rain_mm is not None and rain_mm > curing.rain_stops_mm:
        fall, most = (units.show(value, "length", site.units) for value in (rain_mm, curing.rain_stops_mm))
        said.append(f"{fall} of rain, and more than {most} stops the pour")
    return "; ".join(said)
