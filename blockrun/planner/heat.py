"""What is said of the warmth of blocks, where that is modelled."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun import units
from blockrun.cure.age import Ints
from blockrun.cure.rates import HOTTEST_C
from blockrun.cure.warm import WarmClock, middle_c
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.clocks import Clocks
    from blockrun.planner.tables import PlanTables
    from blockrun.site import MouldKind, Site

_SEVERAL: Final = 2
_TOO_HOT_C: Final = 70.0
"""Concrete that gets hotter as it sets may crack long after (common limit, from memory)."""


def heat_said(site: Site, clocks: Clocks, tables: PlanTables, strip_h: float) -> Iterator[str]:
    """As :func:`warmth_said`, of the pours of a plan."""
    casts = tables.casts
    of_kinds = {}
    for kind in site.moulds:
        poured = casts.loc[casts["mould"].map(kind_named) == kind.kind, "poured"].unique()
        minutes = np.asarray(poured).astype("datetime64[m]") - np.datetime64(site.calendar.start, "m")
        of_kinds[kind.kind] = minutes.astype(np.int64)
    yield from warmth_said(site, clocks, of_kinds, strip_h)


def warmth_said(site: Site, clocks: Clocks, poured_min: Mapping[str, Ints], strip_h: float) -> Iterator[str]:
    """Sentences on how heat was modelled, how warm blocks get, and where that is too warm; none where it was not.

    Parameters
    ----------
    poured_min : by kind of mould, the minutes at which pours end, from the first day of the calendar on.
    strip_h : hours at 20 degC at which blocks are stripped: of several mixes the last to be as old sets the times.
    """
    if not clocks.modelled:
        return
    fresh = site.curing.fresh_mix_c
    warm = "the air" if fresh is None else units.show(fresh, "temperature", site.units)
    yield (
        f"Heat is modelled, for a {site.curing.cement_heat} cement of a usual make (from memory), poured as warm as "
        f"{warm}. Strip a first mould with care, and go by the air if it is not as told."
    )
    for kind in site.moulds:
        if poured_min[kind.kind].size:
            yield from _of_kind(site, clocks, kind, poured_min[kind.kind])
            yield from _slowest_said(site, clocks, kind, poured_min[kind.kind], strip_h)


def _slowest_said(site: Site, clocks: Clocks, kind: MouldKind, poured_min: Ints, strip_h: float) -> Iterator[str]:
    """Of several mixes, the one that the times of a mould are those of, as it gives the least heat."""
    casts = clocks.casts(kind)
    if len(casts) < _SEVERAL:
        return
    last = {mix: int(WarmClock(site, [cast]).when(poured_min, strip_h).sum()) for mix, cast in casts.items()}
    slowest = max(last, key=lambda mix: last[mix])
    yield f"{kind.kind}: its times are those of {slowest}, of the {len(casts)} mixes the slowest to be old enough."


def _of_kind(site: Site, clocks: Clocks, kind: MouldKind, poured_min: Ints) -> Iterator[str]:
    middles_c = {mix: middle_c(cast, site, poured_min) for mix, cast in clocks.casts(kind, kind.length_mm).items()}
    hottest = max(middles_c, key=lambda mix: middles_c[mix])
    hottest_c, with_mix = middles_c[hottest], f" with {hottest}" if len(middles_c) >= _SEVERAL else ""
    beside = ", hotter where cavities stand side by side" if kind.cavities > 1 else ""
    yield (
        f"{kind.kind}: the middle may get to about {_degrees(hottest_c, site)}{with_mix}{beside}, and corners stay "
        "near the air. Ages are those of the corners, which break first: press your thumb into a corner before you "
        "strip."
    )
    if hottest_c > HOTTEST_C:
        yield (
            f"{kind.kind} gets over {_degrees(HOTTEST_C, site)}, where neither ages nor heat can be reckoned, and its "
            "times are not to be trusted: pour it cooler or thinner, cover it less, or take a slower cement."
        )
    elif hottest_c > _TOO_HOT_C:
        yield f"{kind.kind} gets over {_degrees(_TOO_HOT_C, site)}: pour it cooler or thinner, or cover it less."


def _degrees(celsius: float, site: Site) -> str:
    """To the whole degree: nobody knows it better."""
    unit = units.usual("temperature", site.units)
    return f"{units.in_unit(celsius, 'temperature', unit):.0f} {unit}"
