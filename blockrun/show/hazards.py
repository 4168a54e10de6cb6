"""What to do about frost, cold, heat, rain, wind and drying, said at the head of a day."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.cure.hazards import DRYING_KG_M2_H, Hazards, hazards
from blockrun.cure.pour_life import pour_life_at
from blockrun.show.page import glued
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.site import DayWeather, Site

_LB_FT2: Final = 0.204816
_KM_A_MILE: Final = 1.609344


def hazards_said(air: DayWeather, site: Site, pours: bool = True) -> tuple[str, ...]:
    """Say what the weather of a day asks for; nothing of a day whose weather is the mean of others.

    Where nothing is poured, only what blocks in moulds and on racks need is said.
    """
    if not (air.forecast or air.typical):
        return ()
    calendar = site.calendar
    found = hazards(air, calendar.open_min, calendar.close_min)
    return tuple((*_cold(found, site, pours), *_hot(found, air, site, pours), *_wet_and_dry(found, site, pours)))


def keeps_min(air: DayWeather, site: Site) -> int | None:
    """Minutes that the mix keeps at the hottest of a day; None where it is not hot, or a guess."""
    if not (air.forecast or air.typical):
        return None
    hot_c = hazards(air, site.calendar.open_min, site.calendar.close_min).hot_c
    return None if hot_c is None else round(pour_life_at(site, hot_c))


def _cold(found: Hazards, site: Site, pours: bool) -> Iterator[str]:
    if found.freezes_c is not None:
        pour = _ban(found.freezes_c < site.curing.least_air_c, "cover what is poured at once and warm the water")
        yield (
            f"FROST, {_degrees(found.freezes_c, site)}: {f'{pour}; ' if pours else ''}cover blocks in moulds and on "
            "racks, do not wet them."
        )
    if found.cold_c is not None:
        pour = _ban(found.cold_c < site.curing.least_air_c, "warm the water")
        yield (
            f"COLD, {_degrees(found.cold_c, site)}: {f'{pour}; ' if pours else ''}cover moulds and racks, they set "
            "slowly."
        )


def _hot(found: Hazards, air: DayWeather, site: Site, pours: bool) -> Iterator[str]:
    if found.hot_c is None:
        return
    hot, most_c = f"HEAT, {_degrees(found.hot_c, site)}", site.curing.most_air_c
    if not pours:
        yield f"{hot}: keep blocks damp and in the shade."
    elif most_c is not None and air.max_c > most_c:
        yield f"{hot}: do not pour."
    else:
        yield f"{hot}: pour in the cool hours, use cool water; {_pour_life(found.hot_c, site)}."


def _wet_and_dry(found: Hazards, site: Site, pours: bool) -> Iterator[str]:
    if not pours:
        return
    if found.rain_mm is not None:
        rain = glued(show(round(found.rain_mm, 1), "length", site.units))
        yield f"RAIN, {rain}: pour under a roof, or cover each mould at once; no rain into mixer or foam."
    if found.dries_kg_m2_h is not None:
        sure = "DRYING WIND" if found.dries_kg_m2_h >= DRYING_KG_M2_H else "May dry fast"
        yield f"{sure}, {_rate(found.dries_kg_m2_h, site)}: cover each mould once struck off, keep it damp."
    if found.wind_km_h is not None:
        yield (
            f"WIND, {_speed(found.wind_km_h, site)}: cover each mould once struck off; how fast it dries cannot be "
            "told without humidity in the weather file."
        )


def _ban(banned: bool, otherwise: str) -> str:
    return "do not pour" if banned else otherwise


def _degrees(celsius: float, site: Site) -> str:
    return glued(show(round(celsius, 1), "temperature", site.units))


def _pour_life(celsius: float, site: Site) -> str:
    life_min = round(pour_life_at(site, celsius))
    usual, short = (glued(show(round(minutes), "time")) for minutes in (site.pour_life_min, life_min))
    takes_min = min(mixer.foam_time_min + mixer.pour_time_min for mixer in site.mixers)
    said = f"at the hottest the mix keeps about {short}, not {usual}: be done sooner than POUR BY"
    if takes_min <= life_min:
        return said
    return f"{said}, and make no batch then, for it takes {glued(show(takes_min, 'time'))}"


def _speed(km_h: float, site: Site) -> str:
    return glued(f"{km_h / _KM_A_MILE:.0f} mph" if site.units == "US" else f"{km_h:.0f} km/h")


def _rate(kg_m2_h: float, site: Site) -> str:
    if site.units == "US":
        return f"{kg_m2_h * _LB_FT2:.2f} lb/ft2 an hour"
    return f"{kg_m2_h:.1f} kg/m2 an hour"
