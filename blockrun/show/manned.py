"""Days on which somebody works."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from blockrun.site import Site

_A_WEEK: Final = 7


def is_manned(day: date, site: Site) -> bool:
    """Whether anybody works on a day."""
    return site.calendar.is_working(day) and site.crew.on(day) > 0


def until_somebody_is_there(day: date, site: Site) -> Iterator[date]:
    """Days after one, up to the first on which somebody is there; a week of them at the most."""
    for after in (day + timedelta(days=n) for n in range(1, _A_WEEK + 1)):
        yield after
        if is_manned(after, site):
            return
