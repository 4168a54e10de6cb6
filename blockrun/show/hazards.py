"""What to do about frost, cold, heat, rain, wind and drying, said at the head of a day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.cure.hazards import DRYING_KG_M2_H, HOT_C, Hazards, hazards
from blockrun.cure.pour_life import OUR_CHOICE, holds_up_to_c, hot_over_c, hot_stretches, pour_life_in, quickest_min
from blockrun.files.day_names import clock
from blockrun.show.chores import chores_now, wets
from blockrun.show.covering import covered, setting
from blockrun.show.page import glued
from blockrun.units import listed, show, show_degrees, show_time

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.site import DayWeather, Site

_LB_FT2: Final = 0.204816
_KM_A_MILE: Final = 1.609344


_WET: Final = "do not wet them in frost or on its eve"
_WET_THEN: Final = "wet them only at the hours listed, and not if they would still be wet when it freezes"


def hazards_said(
    air: DayWeather,
    site: Site,
    pours: bool,
    *,
    sets_in: Sequence[str] = ("moulds", "racks"),
    wets: bool = False,
    takes_min: float | None = None,
) -> tuple[str, ...]:
    """Say what the weather of a day asks for; nothing of a day whose weather is the mean of others.

    Parameters
    ----------
    pours : where nothing is poured, only what blocks in moulds and on racks need is said.
    sets_in : in and on what blocks set, as far as that is known.
    wets : whether chores that wet blocks are listed, at hours that leave them time to dry before it freezes.
    takes_min : from the foam to the end of the pour, of the quickest batch; that of the fastest mixer unless told.
    """
    if not (air.forecast or air.typical):
        return ()
    found = hazards(air, site.calendar.open_min, site.calendar.close_min, hot_over_c(site))
    bans = _Bans.of(air, site)
    may = pours and not any(bans)
    return tuple(
        (
            *_cold(found, air, site, pours and bans.cold, may, sets_in, wets),
            *_hot(found, air, site, pours and bans.hot, may, takes_min or quickest_min(site)),
            *_wet(found, site, pours and bans.wet, may),
            *(_dry(found, site, may) if may or not pours else ()),
        )
    )


def hazards_of(day: Day, site: Site) -> tuple[str, ...]:
    """Say what the weather asks for on a day of a plan; nothing where nothing is poured and nothing stands."""
    if day.pours or covered(day, site):
        takes_min = min((pour.until_poured_min for pour in day.pours), default=None)
        return hazards_said(
            day.weather, site, bool(day.pours), sets_in=setting(day), wets=_wets(day, site), takes_min=takes_min
        )
    return ()


def _wets(day: Day, site: Site) -> bool:
    """Whether a chore that wets blocks is to be done on a day."""
    return any(wets(name) for job in day.at("chore") for name in chores_now(job, site.weather).done)


class _Bans(NamedTuple):
    """What of a day's air is over a limit of the yard, so that nothing is poured."""

    cold: bool
    hot: bool
    wet: bool

    @classmethod
    def of(cls, air: DayWeather, site: Site) -> _Bans:
        curing, rain_mm = site.curing, air.sky.rain_mm
        return cls(
            air.min_c < curing.least_air_c,
            curing.most_air_c is not None and air.max_c > curing.most_air_c,
            curing.rain_stops_mm is not None and rain_mm is not None and rain_mm > curing.rain_stops_mm,
        )


def _cold(
    found: Hazards, air: DayWeather, site: Site, banned: bool, may: bool, sets_in: Sequence[str], wets: bool
) -> Iterator[str]:
    if found.freezes_c is not None:
        pour = _pour(banned, may, "cover what is poured at once and warm the water")
        chore = ", even where a chore says so" if site.chores else ""
        dry = _WET_THEN if wets else f"{_WET}{chore}"
        yield f"FROST, {_degrees(air.min_c, site)}: {pour}cover blocks in moulds, on racks and on the stack, {dry}."
    elif found.cold_c is not None and sets_in:
        pour = _pour(banned, may, "warm the water")
        yield f"COLD, {_degrees(air.min_c, site)}: {pour}cover {listed(sets_in)}, they set slowly."
    elif banned:
        yield f"COLD for this yard, {_degrees(air.min_c, site)}: do not pour."


def _hot(found: Hazards, air: DayWeather, site: Site, banned: bool, may: bool, takes_min: float) -> Iterator[str]:
    if banned:
        yield f"HEAT, {_degrees(air.max_c, site)}: do not pour; keep blocks damp and in the shade."
    elif found.hot_c is not None and may:
        shade = "" if _dries_as_known(air) else "; cover each mould once struck off"
        life = _pour_life(found.hot_c, air, site, takes_min)
        yield f"HEAT, {_degrees(found.hot_c, site)}: pour in the cool hours, use cool water; {life}{shade}."
    elif found.hot_c is not None and found.hot_c > HOT_C:
        yield f"HEAT, {_degrees(found.hot_c, site)}: keep blocks damp and in the shade."


def _dries_as_known(air: DayWeather) -> bool:
    """Whether the weather tells how fast tops dry, so that a line of its own says when they do."""
    return bool(air.sky.wind_km_h and air.sky.humidity)


def _wet(found: Hazards, site: Site, banned: bool, may: bool) -> Iterator[str]:
    if found.rain_mm is None or not (banned or may):
        return
    rain = f"RAIN, {glued(show(round(found.rain_mm, 1), 'length', site.units))}"
    if banned:
        yield f"{rain}: do not pour; keep rain off what is in the moulds."
    else:
        yield f"{rain}: pour under a roof, or cover each mould at once; no rain into mixer or foam."


def _dry(found: Hazards, site: Site, may: bool) -> Iterator[str]:
    if found.dries_kg_m2_h is not None:
        sure = "DRYING WIND" if found.dries_kg_m2_h >= DRYING_KG_M2_H else "May dry fast"
        care = "cover each mould once struck off, keep it damp" if may else "keep blocks damp and covered"
        yield f"{sure}, {_rate(found.dries_kg_m2_h, site)}: {care}."
    if found.wind_km_h is not None and may:
        yield (
            f"WIND, {_speed(found.wind_km_h, site)}: cover each mould once struck off; how fast it dries cannot be "
            "told without humidity in the weather file."
        )


def _pour(banned: bool, may: bool, advice: str) -> str:
    """What to do about a pour: leave it, or how to go about it; nothing where there is none for another reason."""
    return "do not pour; " if banned else f"{advice}; " if may else ""


def _degrees(celsius: float, site: Site) -> str:
    return glued(show_degrees(celsius, site.units))


def _pour_life(celsius: float, air: DayWeather, site: Site, takes_min: float) -> str:
    life = pour_life_in(site, celsius)
    if life.hot_c is None:
        return f"the pour life holds up to {_degrees(holds_up_to_c(site), site)}"
    usual, short = (glued(show_time(round(minutes))) for minutes in (site.pour_life_min, life.minutes))
    said = (
        f"at the hottest the mix keeps {short}, not {usual} ({OUR_CHOICE}); the limit of a pour counts it, "
        "by the hour of each batch"
    )
    hours = [f"from {clock(first)} to {clock(end)}" for first, end in hot_stretches(site, air, takes_min)]
    if not hours:
        return said
    return f"{said}; no foam goes in {listed(hours)}, for the quickest batch takes {glued(show_time(takes_min))}"


def _speed(km_h: float, site: Site) -> str:
    return glued(f"{km_h / _KM_A_MILE:.0f} mph" if site.units == "US" else f"{km_h:.0f} km/h")


def _rate(kg_m2_h: float, site: Site) -> str:
    if site.units == "US":
        return f"{kg_m2_h * _LB_FT2:.2f} lb/ft2 an hour"
    return f"{kg_m2_h:.1f} kg/m2 an hour"
