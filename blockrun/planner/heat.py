"""What a plan says of the warmth of its blocks, where that is modelled."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import numpy as np
import pandas as pd

from blockrun import units
from blockrun.cure.warm import middles_c

if TYPE_CHECKING:
    from blockrun.planner.clocks import Clocks
    from blockrun.planner.tables import PlanTables
    from blockrun.site import MouldKind, Site

_TOO_HOT_C: Final = 70.0
"""Concrete that gets hotter as it sets may crack long after (common limit, from memory)."""


def heat_said(site: Site, clocks: Clocks, tables: PlanTables) -> Iterator[str]:
    """Sentences on how heat was modelled, how warm blocks get, and where that is too warm; none where it was not."""
    if not clocks.modelled:
        return
    fresh = site.curing.fresh_mix_c
    warm = "the air" if fresh is None else units.show(fresh, "temperature", site.units)
    yield (
        f"Heat is modelled, for a {site.curing.cement_heat} cement of a usual make (from memory), poured as warm as "
        f"{warm}. Strip a first mould with care, and go by the air if it is not as told."
    )
    for kind in site.moulds:
        of_kind = tables.casts["mould"].str.rpartition("/")[0] == kind.kind
        poured = tables.casts.loc[of_kind, "poured"].drop_duplicates()
        if len(poured):
            yield from _of_kind(
                site, clocks, kind, (poured - pd.Timestamp(site.calendar.start)) // pd.Timedelta("1min")
            )


def _of_kind(site: Site, clocks: Clocks, kind: MouldKind, poured_min: pd.Series) -> Iterator[str]:
    casts = clocks.casts(kind, kind.length_mm).values()
    hottest_c = max(float(middles_c(cast, site, poured_min.to_numpy(dtype=np.int64)).max()) for cast in casts)
    surface = "" if all(cast.of_one_temperature for cast in casts) else (
        f"; its Biot number is {max(cast.biot for cast in casts):.1f}, over 0.1, so ages are those of its surface"
    )  # fmt: skip
    yield f"{kind.kind}: up to {units.show(round(hottest_c), 'temperature', site.units)} in the middle{surface}."
    if hottest_c > _TOO_HOT_C:
        limit = units.show(_TOO_HOT_C, "temperature", site.units)
        yield f"{kind.kind} gets over {limit}: pour it cooler or thinner, or cover it less."
