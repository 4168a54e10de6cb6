"""What is said where hours under freezing count in the age at which blocks are stripped or laid."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.cure.age import Ints
from blockrun.cure.frozen import Frozen, FrozenHours
from blockrun.cure.hazards import FREEZING_C
from blockrun.units import digits, show

if TYPE_CHECKING:
    from blockrun.planner.brief import Brief
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site

LEAST_H: Final = 0.05
"""Hours under freezing that are told; less is rounding."""


BEFORE_STRIP: Final = "FROST before the strip"


def frozen_in_plan(asked: Brief, tables: PlanTables) -> Iterator[str]:
    """Sentences on the hours under freezing before the strip and the laying of a plan."""
    site, casts = asked.site, tables.casts
    poured, strip = (_minutes(casts[name].to_numpy(), site) for name in ("poured", "strip"))
    hours = FrozenHours(site)
    yield from before_strip(site, hours.most(poured, strip))
    lay_h = asked.ages.lay_h
    if lay_h is not None:
        yield from before_laying(site, hours.most(poured, asked.clocks.air.when(poured, lay_h)))


def _minutes(moments: np.ndarray[tuple[int, ...], np.dtype[np.datetime64]], site: Site) -> Ints:
    return (moments.astype("datetime64[m]") - np.datetime64(site.calendar.start, "m")).astype(np.int64)


def before_strip(site: Site, found: Frozen) -> Iterator[str]:
    """What to do where it freezes between pour and strip."""
    if found.hours < LEAST_H:
        return
    freezing, by_air = show(FREEZING_C, "temperature", site.units), site.curing.heat != "modelled"
    yield (
        f"{BEFORE_STRIP}: {_counted(site, found, by_air)}. Do not pour then (least_air: {freezing}), or cover "
        f"and warm the moulds; else strip {_later(found, by_air)}, and only where a thumb leaves no dent "
        "once it has thawed: ice is firm too."
    )


def before_laying(site: Site, found: Frozen) -> Iterator[str]:
    """What to do where it freezes between pour and laying, and laying waits for a strength."""
    if found.hours >= LEAST_H:
        yield (
            f"FROST before laying: {_counted(site, found)}. Keep the racks warmer; else lay {_later(found)}, and only "
            "after cubes kept beside the blocks were crushed."
        )


def _counted(site: Site, found: Frozen, by_air: bool = True) -> str:
    """How long it freezes; by how much an age is too high is known only where blocks are as warm as the air."""
    said = f"up to {digits(round(found.hours, 1))} h under {show(FREEZING_C, 'temperature', site.units)}"
    if not by_air:
        return f"{said}, corners are near the air, and ice sets nothing"
    return f"{said} count as {digits(round(found.count_h, 1))} h at 20 degC, though ice sets nothing"


def _later(found: Frozen, by_air: bool = True) -> str:
    return f"{digits(round(found.count_h, 1))} h at 20 degC later" if by_air else "as much later"
