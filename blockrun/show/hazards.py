"""What to do about frost, cold, heat and drying, said at the head of a day."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.cure.hazards import DRYING_KG_M2_H, Hazards, hazards
from blockrun.cure.rates import rule_of
from blockrun.show.page import glued
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.site import DayWeather, Site

_LB_FT2: Final = 0.204816
_REFERENCE_C: Final = 20.0


def hazards_said(air: DayWeather, site: Site) -> tuple[str, ...]:
    """Say what the weather of a day asks for; nothing of a day whose weather is the mean of others."""
    if not (air.forecast or air.typical):
        return ()
    calendar = site.calendar
    return tuple(_said(hazards(air, calendar.open_min, calendar.close_min), air, site))


def _said(found: Hazards, air: DayWeather, site: Site) -> Iterator[str]:
    if found.freezes_c is not None:
        pour = _ban(found.freezes_c < site.curing.least_air_c, "cover what is poured at once and warm the water")
        yield f"FROST, {_degrees(found.freezes_c, site)}: {pour}; cover blocks in moulds and on racks, do not wet them."
    if found.cold_c is not None:
        pour = _ban(found.cold_c < site.curing.least_air_c, "warm the water")
        yield f"COLD, {_degrees(found.cold_c, site)}: {pour}; cover moulds and racks, they set slowly."
    if found.hot_c is not None:
        most_c = site.curing.most_air_c
        pour = _ban(most_c is not None and air.max_c > most_c, "pour early, use cool water")
        yield f"HEAT, {_degrees(found.hot_c, site)}: {pour}; {_pour_life(found.hot_c, site)}."
    if found.dries_kg_m2_h is not None:
        sure = "DRYING WIND" if found.dries_kg_m2_h >= DRYING_KG_M2_H else "May dry fast"
        yield f"{sure}, {_rate(found.dries_kg_m2_h, site)}: cover each mould once struck off, keep it damp."


def _ban(banned: bool, otherwise: str) -> str:
    return "do not pour" if banned else otherwise


def _degrees(celsius: float, site: Site) -> str:
    return glued(show(round(celsius, 1), "temperature", site.units))


def _pour_life(celsius: float, site: Site) -> str:
    """Say the pour life as short as the set is fast (our choice: by the rule of the ages)."""
    rate = rule_of(site.curing)
    faster = float(rate(celsius)) / float(rate(_REFERENCE_C))
    usual, short = (
        glued(show(round(minutes), "time")) for minutes in (site.pour_life_min, site.pour_life_min / faster)
    )
    return f"a pour life of {usual} shrinks to about {short}"


def _rate(kg_m2_h: float, site: Site) -> str:
    if site.units == "US":
        return f"{kg_m2_h * _LB_FT2:.2f} lb/ft2 an hour"
    return f"{kg_m2_h:.1f} kg/m2 an hour"
