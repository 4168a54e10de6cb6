"""When blocks that warm themselves are old enough: casts as a site describes their mould, and a clock of their ages."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from datetime import timedelta
from typing import TYPE_CHECKING, Final, NamedTuple, overload

import numpy as np

from blockrun.cure.age import NEVER, Ints
from blockrun.cure.air import Floats, air_of_days
from blockrun.cure.heat import STEP_MIN, Cast, Ends, ripe_min, warmth
from blockrun.cure.hydration import CEMENTS
from blockrun.cure.middle import hottest_c
from blockrun.cure.rates import rule_of
from blockrun.units import MINUTES_A_DAY

if TYPE_CHECKING:
    from blockrun.site import MouldKind, Site

FOLLOWED_DAYS: Final = 120
"""Days for which the warmth of a block is followed (our choice): by then it has none of its own."""

_STEPS_A_DAY: Final = MINUTES_A_DAY // STEP_MIN
_QUARTERS_H: Final = np.arange(_STEPS_A_DAY) * STEP_MIN / 60
_FIRST_DAYS: Final = 14
_FOLLOWED_POURS: Final = 8
"""Pours whose middle is followed: those whose mean gets warmest, and the middle with it."""

_MIDDLE_DAYS: Final = 5
"""Days for which the middle of a cast is followed."""


class Contents(NamedTuple):
    """Kilograms in a cubic metre of wet mix: cement, water of slurry and foam, and what else is dry."""

    cement_kg: float
    water_kg: float
    other_kg: float


def cast_in(kind: MouldKind, length_mm: float, mix: Contents, site: Site) -> Cast:
    """What fills a cavity of a mould up to a length.

    Each cavity is taken alone, with all its faces to the air outside: its neighbours keep it warmer. The top is covered
    as the mould says, all other faces are walls; a slab lies on its face.

    Source
    ------
    Conductivity by density: 0.072 exp(0.00125 x density) W/mK, of the ACI guide on insulating concrete, from memory; of
    wet density here. Fresh mix conducts somewhat better, so corners are warmer than reckoned.
    """
    length, height, thickness = length_mm / 1000, kind.height_mm / 1000, kind.thickness_mm / 1000
    sides = (length, height, thickness)
    area = 2 * sum(one * other for one, other in itertools.combinations(sides, 2))
    top, upright = length * (height if kind.saw else thickness), 2 if kind.saw else 1
    wall, cover = kind.walls.loss_w_m2k, (kind.cover or kind.walls).loss_w_m2k
    ends: list[Ends] = [(wall, cover if axis == upright else wall) for axis in range(3)]
    return Cast(
        sides_m=sides,
        loss_w_k=(area - top) * wall + top * cover,
        cement_kg_m3=mix.cement_kg,
        water_kg_m3=mix.water_kg,
        other_kg_m3=mix.other_kg,
        cement=CEMENTS[site.curing.cement_heat],
        conductivity_w_mk=0.072 * float(np.exp(0.00125 * sum(mix))),
        faces_w_m2k=(ends[0], ends[1], ends[2]),
    )


def fresh_of(site: Site, air_c: Floats) -> Floats:
    """How warm the mix is as it is poured: as the site says, else as the air."""
    fresh = site.curing.fresh_mix_c
    return air_c if fresh is None else np.full_like(air_c, fresh)


def middle_c(cast: Cast, site: Site, poured_min: Ints) -> float:
    """How hot a cast gets in its middle, in the worst of some pours.

    Parameters
    ----------
    poured_min : shape (n,), n > 0, from the first day of the calendar on; the few whose mean gets hottest are followed.
    """
    steps, first = _MIDDLE_DAYS * _STEPS_A_DAY, np.unique(poured_min // STEP_MIN)
    air_c = air_of_site(site, -(-(int(first.max()) + steps + 1) // _STEPS_A_DAY))
    around_c = air_c[first[np.newaxis, :] + np.arange(steps + 1)[:, np.newaxis]]
    means_c = warmth(cast, around_c, fresh_of(site, around_c[0])).mean_c.max(axis=0)
    around_c = around_c[:, np.argsort(means_c)[-_FOLLOWED_POURS:]]
    return float(hottest_c(cast, around_c, fresh_of(site, around_c[0])).max())


def air_of_site(site: Site, n_days: int) -> Floats:
    """The air at each quarter of an hour of so many days from the first of the calendar."""
    days = [site.weather.day(site.calendar.start + timedelta(days=n)) for n in range(n_days)]
    return air_of_days(days, _QUARTERS_H).ravel()


class WarmClock:
    """When casts in one kind of mould are of an age, with the heat of their cement.

    A pour counts from the quarter of an hour in or after which it ends, with the least favourable of the casts, and is
    never of an age before one that was poured earlier.

    Parameters
    ----------
    site : its weather from the first day of its calendar, and its rule of ages.
    casts : what the mould may hold.
    """

    def __init__(self, site: Site, casts: Sequence[Cast]) -> None:
        self._site = site
        self._casts = tuple(dict.fromkeys(casts))
        self._tables: dict[float, Floats] = {}

    @overload
    def when(self, from_min: int, hours: float) -> int: ...
    @overload
    def when(self, from_min: Ints, hours: float) -> Ints: ...
    def when(self, from_min: Ints | int, hours: float) -> Ints | int:
        """Earliest whole minute by which an age is reached.

        Parameters
        ----------
        from_min : whole minute at which the pour ends, >= 0; a number or an array.
        hours : age in hours at 20 degC, >= 0.

        Returns
        -------
        Minutes of the same shape; `NEVER` where the age is not reached within 120 days.
        """
        pours = -(-np.asarray(from_min) // STEP_MIN)
        table = self._table(hours, int(pours.max(initial=0)))
        minute = np.where(np.isfinite(table), np.ceil(table - 1e-6), NEVER).astype(np.int64)[pours]
        minute = np.maximum(minute, from_min)
        return minute if np.ndim(minute) else int(minute)

    def _table(self, hours: float, last: int) -> Floats:
        """The minute at which the age is reached, by quarters of an hour up to the last one, or further."""
        table = self._tables.get(hours)
        if table is None or len(table) <= last:
            days = max(
                _FIRST_DAYS, -(-(last + 1) // _STEPS_A_DAY), 0 if table is None else 2 * len(table) // _STEPS_A_DAY
            )
            air_c = air_of_site(self._site, days + FOLLOWED_DAYS)
            fresh_c = fresh_of(self._site, air_c[: days * _STEPS_A_DAY])
            rule = rule_of(self._site.curing)
            table = np.maximum.reduce([ripe_min(cast, air_c, fresh_c, rule, hours) for cast in self._casts])
            self._tables[hours] = table
        return table
