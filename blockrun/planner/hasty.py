"""Ages so low that a unit may be wrong, said wherever people go by them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.site import Strength
from blockrun.units import MINUTES_A_DAY, show_time

if TYPE_CHECKING:
    from blockrun.site import Site

_SOON_STRIPPED_H: Final = 8
_SOON_LAID_MIN: Final = 3 * MINUTES_A_DAY


def hasty(site: Site) -> Iterator[str]:
    """Say which ages of a site are odd (common practice, no source: a day to the strip, weeks to the laying)."""
    yield from hasty_strip(site)
    lay = site.curing.lay_at_min
    if isinstance(lay, Strength):
        yield "lay_at is a strength, and strength says nothing of shrinkage: four weeks before laying are usual."
    elif lay < _SOON_LAID_MIN:
        yield f"lay_at is {show_time(lay)}: four weeks are usual. Is the unit right?"


def hasty_strip(site: Site) -> Iterator[str]:
    """Say where moulds are stripped sooner than any block of a usual cement bears."""
    strip = site.curing.strip_at_h
    if not isinstance(strip, Strength) and strip < _SOON_STRIPPED_H:
        yield f"strip_at is {show_time(60 * strip)}: a day is usual. Is the unit right?"
