"""How old blocks that warm themselves are at a minute: `blockrun.cure.warm` the other way round."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np

from blockrun.cure.heat import STEP_MIN, Cast, warmth
from blockrun.cure.rates import HOTTEST_C, rule_of
from blockrun.cure.warm import air_of_site, fresh_of

if TYPE_CHECKING:
    from blockrun.site import Site

_STEPS_A_DAY = 24 * 60 // STEP_MIN


def warm_age_h(site: Site, casts: Iterable[Cast], poured_min: int, minute: int) -> float:
    """Hours at 20 degC that the corners of the slowest of some casts have gained.

    Parameters
    ----------
    site : its weather from the first day of its calendar, and its rule of ages.
    casts : one or more that a mould may hold.
    poured_min : minute at which the pour ends, >= 0; it counts from the quarter of an hour in or after that.
    minute : >= ``poured_min``.

    Source
    ------
    The steps of `blockrun.cure.heat.ripe_min`, followed for one pour; tests/cure/test_aged.py holds the two together.
    """
    first = -(-poured_min // STEP_MIN)
    since = max(0, minute - first * STEP_MIN)
    steps = since // STEP_MIN + 1
    air_c = air_of_site(site, -(-(first + steps + 1) // _STEPS_A_DAY))[first : first + steps + 1, np.newaxis]
    rule, at_h = rule_of(site.curing), np.arange(steps + 1) * STEP_MIN / 60
    ages = []
    for cast in casts:
        corner_c = warmth(cast, air_c, fresh_of(site, air_c[0])).corner_c[:, 0]
        rate = rule(np.minimum(corner_c, HOTTEST_C))
        gained_h = np.concatenate(([0.0], np.cumsum((rate[1:] + rate[:-1]) / 2 * STEP_MIN / 60)))
        ages.append(float(np.interp(since / 60, at_h, gained_h)))
    return min(ages)
