"""The air of a day as somebody read it: in degrees that may be, held against the forecast and what was told before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.files.day_names import day_name
from blockrun.site.weather.measures import COLDEST_C, HOTTEST_C
from blockrun.units import usual
from blockrun.yard.journal.events import WeatherSeen
from blockrun.yard.ready.air import expected, off_forecast
from blockrun.yard.record.figures import degrees_between
from blockrun.yard.record.said import entry_said

if TYPE_CHECKING:
    from blockrun.site import Site
    from blockrun.yard.journal import Entry


def check_air(celsius: float, word: str, site: Site) -> None:
    """Refuse what the weather file of a site would refuse.

    Parameters
    ----------
    word : as typed.
    site : in whose degrees a bare number is.

    Raises
    ------
    BadInput : no air is so cold or so hot.
    """
    if COLDEST_C <= celsius <= HOTTEST_C:
        return
    is_bare = word[-1].isdigit()
    todo = f"Correct it, or write its unit, such as {word}{other_degrees(site)}." if is_bare else "Correct its unit."
    raise BadInput(f"{word}{f' {usual_degrees(site)}' * is_bare} is no air temperature", todo, value=word)


def usual_degrees(site: Site) -> str:
    """The degrees that a site prints in, of every number without a unit."""
    return usual("temperature", site.units)


def air_doubted(seen: WeatherSeen, site: Site) -> Iterator[str]:
    """Air far from the forecast of its day: most likely it was read in other degrees, and strips hang on it."""
    due, (low, high) = expected(site, seen.day), off_forecast(seen, site).is_far
    if not low and not high:
        return
    day = day_name(seen.day)
    of_day = f"forecast for {day}" if due.forecast and seen.day >= site.weather.first else f"to be expected on {day}"
    forecast = degrees_between(due.min_c, due.max_c, site.units)
    told = f"{forecast} are {of_day}, and {degrees_between(seen.min_degc, seen.max_degc, site.units)} are told"
    other = other_degrees(site)
    asked = f"Are they {other}?" if low and high else f"Is one of them a slip, or {other}?"
    yield f"{told}. {asked} Strips hang on it: if it is wrong, undo it and write it with the unit."


def air_replaced(seen: WeatherSeen, others: Iterable[Entry], at: datetime, site: Site) -> Iterator[str]:
    """Air told of a day of which some is told already: one of both counts.

    Parameters
    ----------
    others : that stand.
    at : when it was seen.
    """
    twins = [one for one in others if isinstance(one.event, WeatherSeen) and one.event.day == seen.day]
    last = max(twins, key=lambda one: one.place, default=None)
    if last is None:
        return
    assert isinstance(last.event, WeatherSeen)
    air, day = degrees_between(last.event.min_degc, last.event.max_degc, site.units), day_name(seen.day)
    if last.happened <= at:
        yield f"it takes the place of {entry_said(last.number)}, {air} for {day}."
    else:
        yield f"{entry_said(last.number)}, {air} for {day}, was told at a later time, and counts in its place."


def other_degrees(site: Site) -> str:
    """Those that the site does not print in."""
    return "degC" if usual_degrees(site) == "degF" else "degF"
