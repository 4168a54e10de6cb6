"""When what is poured at each hour is bared, stripped, moved and laid: a table for a screen or a phone."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import MONTHS, WEEKDAYS, clock, day_name, full_day_name
from blockrun.planner.frozen import BEFORE_STRIP
from blockrun.show.cautions import SHORT
from blockrun.show.hazards import hazards_said
from blockrun.show.head import air_said
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued
from blockrun.site import Strength
from blockrun.units import listed, show, show_time

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.times import DayTimes, KindTimes, Times, YardTimes
    from blockrun.site import Site

ICE: Final = "*"
"""Marks a strip whose age holds hours under freezing."""

_LEAST: Final = {"pour": 5, "strip": 9, "move": 5}
_NARROWEST: Final = 40
_NO_OTHER_WEEK: Final = timedelta(days=6)
_RULES: Final = {"EN": "EN 1992-1-1", "arrhenius": "Arrhenius", "nurse-saul": "Nurse and Saul"}


def times_text(site: Site, times: YardTimes, width: int) -> Text:
    """Write the times of some days, mould by mould."""
    page = Page(width, site.units)
    page.line((site.name, HEADING))
    for said in how_said(site, times):
        page.line((said, QUIET))
    _write_weather(page, site, times)
    for of_kind in times.kinds:
        page.blank()
        page.rule(kinds_said(of_kind))
        for day in of_kind.days:
            page.blank()
            _write_day(page, day, site)
    page.blank()
    page.line((SHORT, QUIET))
    return page.text()


def _write_weather(page: Page, site: Site, times: YardTimes) -> None:
    """What the weather of each day asks for, once for all moulds."""
    asks = [
        (day, said) for day, pours in days_told(times) if (said := hazards_said(site.weather.day(day), site, pours))
    ]
    if not asks:
        return
    page.blank()
    page.rule("weather")
    for day, said in asks:
        page.line((day_name(day), HEADING))
        for line in said:
            page.line((line, ALARM), indent=2)


def days_told(times: YardTimes) -> Iterator[tuple[date, bool]]:
    """The days that are told, each with whether anything may be poured on it."""
    for of_day in zip(*(of_kind.days for of_kind in times.kinds), strict=True):
        yield of_day[0].day, any(one.hours for one in of_day)


def how_said(site: Site, times: YardTimes) -> Iterator[str]:
    """Say how ages were reckoned, and from what weather."""
    curing = site.curing
    warm = "blocks as warm as the air" if curing.heat == "as the air" else f"{curing.cement_heat} cement, heat modelled"
    yield f"Ages by {_RULES[curing.age]}, {warm}, from the minute at which the last pour of a mould ends."
    yield "Sides off and strip: the first working time at which it is old enough. Move: right after the strip."
    yield _lay(site)
    yield from times.said
    if site.weather.typical or _past_forecast(site, times):
        yield site.weather.said_beyond()


def _past_forecast(site: Site, times: YardTimes) -> bool:
    """Whether a strip, or a day that is told, lies past the last day of the forecast."""
    every = [day for of_kind in times.kinds for day in of_kind.days]
    dates = [day.day for day in every] + [one.strip.date() for day in every for one in day.hours]
    return max(dates, default=date.min) > site.weather.last


def _lay(site: Site) -> str:
    lay = site.curing.lay_at_min
    age = f"at {show(lay.mpa, 'strength', site.units)}" if isinstance(lay, Strength) else f"after {show_time(lay)}"
    waits = "" if isinstance(lay, Strength) else " of the calendar, however cold"
    return f"Lay: off the rack and {age}{waits}."


def kinds_said(of_kind: KindTimes) -> str:
    """Name the kinds of mould that a table is for."""
    return listed([kind.kind for kind in of_kind.kinds])


def _write_day(page: Page, day: DayTimes, site: Site) -> None:
    air = air_said(site.weather.day(day.day), site.units)
    page.line((f"{glued(full_day_name(day.day))}, {air}", HEADING))
    if day.stopped:
        page.line((f"No pour: {day.stopped}.", ALARM))
        return
    rows = list(_rows(day.hours))
    widths = _widths(rows)
    page.line(glued(_row(widths, {name: name for name in widths})))
    for cells in rows:
        page.line(glued(_row(widths, cells)))
    if len(rows) > 1:
        first, last = day.hours[0], day.hours[-1]
        soonest, latest = when_said(first.ripe, first), when_said(last.ripe, last)
        page.line(f"Old enough to strip: the first pour {soonest}, the last {latest}.")
    for times in day.last:
        page.line(last_said(times, day.hours))
    if day.too_late:
        page.line((f"{too_late_said(day)}.", ALARM))
    for said in frozen_said(day):
        page.line((said, ALARM))


def last_said(times: Times, hours: Sequence[Times]) -> str:
    """Say until when to pour for a strip on one day, not the next."""
    after = next((one for one in hours if one.strip.date() > times.strip.date()), None)
    later = f", later {day_of(after.strip, after)}" if after else ""
    return f"Poured by {clock(times.poured)} it is stripped {when_said(times.strip, times)}{later}."


def too_late_said(day: DayTimes) -> str:
    """Say why no pour may end later than the last one told."""
    return f"No pour that is stripped later: {day.too_late}"


def frozen_said(day: DayTimes) -> Iterator[str]:
    """Say what hours under freezing count for, and the strip without them."""
    icy = [one for one in day.hours if one.icy]
    thawed = [one for one in icy if one.thawed]
    for said in day.frozen:
        yield f"{ICE} {said}" if icy and said.startswith(BEFORE_STRIP) else said
    if thawed and all(one.thawed for one in icy):
        first, last = (when_said(one.thawed or one.strip, one) for one in (thawed[0], thawed[-1]))
        until = "" if first == last else f", poured last {last}"
        yield f"{ICE} Counting no hour under freezing the strip is {first}{until}."


def strip_said(times: Times) -> str:
    """Say when it is stripped, with a mark where hours under freezing count in its age."""
    return when_said(times.strip, times) + (ICE if times.icy else "")


def _rows(hours: Sequence[Times]) -> Iterator[dict[str, str]]:
    """Cells of each hour; hours that follow one another and come to the same are one row."""
    for _, alike in itertools.groupby(enumerate(hours), lambda numbered: _alike(*numbered)):
        of = [one for _, one in alike]
        yield _cells(of[0], _from_to(of[0].poured, of[-1].poured))


def _alike(number: int, one: Times) -> tuple[object, ...]:
    """What hours of one row have in common; full hours that follow one another are as far from their number."""
    follows = None if one.poured.minute else one.poured - timedelta(hours=number)
    return follows, one.sides, one.strip, one.move, one.lay, one.icy


def _from_to(first: datetime, last: datetime) -> str:
    if first == last:
        return clock(first)
    return f"{first:%H}-{last:%H}" if not first.minute else f"{clock(first)}-{clock(last)}"


def _cells(times: Times, poured: str) -> dict[str, str]:
    return {
        "pour": poured,
        **({} if times.sides is None else {"sides off": when_said(times.sides, times)}),
        "strip": strip_said(times),
        "move": clock(times.move),
        "lay": _date(times.lay),
    }


def _widths(rows: Iterable[dict[str, str]]) -> dict[str, int]:
    """Width of each column. Where two have dates there is no room for the move: it comes right after the strip."""
    widths: dict[str, int] = {}
    for cells in rows:
        for name, cell in cells.items():
            widths[name] = max(widths.get(name, _LEAST.get(name, len(name))), len(cell))
    if sum(widths.values()) + len(widths) - 1 > _NARROWEST:
        del widths["move"]
    return widths


def _row(widths: dict[str, int], cells: dict[str, str]) -> str:
    return " ".join(f"{cells[name]:<{width}}" for name, width in widths.items()).rstrip()


def when_said(moment: datetime, of: Times) -> str:
    """Say a moment after a pour: day and time."""
    return f"{day_of(moment, of)} {clock(moment)}"


def day_of(moment: datetime, of: Times) -> str:
    """The weekday where nobody can take it for one of another week, else the date."""
    far = moment.date() - of.poured.date() > _NO_OTHER_WEEK
    return _date(moment.date()) if far else WEEKDAYS[moment.weekday()]


def _date(day: date) -> str:
    return f"{day.day:>2} {MONTHS[day.month - 1]}"
