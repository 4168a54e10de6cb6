"""The minutes of a day in which heat leaves a batch no time to be poured, as bits of a number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import numpy as np

from blockrun.cure.pour_life import pour_lives

if TYPE_CHECKING:
    from datetime import date

    from blockrun.site import Site

Hot = Mapping[int, int]
"""By the minutes a batch takes from its foam to the last cavity, the minutes at which no such foam goes in."""


def hot_minutes(site: Site, on: date, takes: Iterable[int]) -> Hot:
    """Those of a day; what is not in it may be poured at any minute.

    Parameters
    ----------
    takes : minutes from the foam to the last cavity filled, of each batch that is not poured however hot it is.
    """
    lives = pour_lives(site, on)
    if lives is None:
        return {}
    too_short = {each: np.packbits(lives < each, bitorder="little").tobytes() for each in takes}
    return {each: hot for each, bits in too_short.items() if (hot := int.from_bytes(bits, "little"))}
