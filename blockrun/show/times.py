"""When what is poured at each hour is bared, stripped, moved and laid: a table for a screen or a phone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Final

from blockrun.show.cautions import SHORT
from blockrun.show.head import air_said
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued
from blockrun.show.words import MONTHS, WEEKDAYS, clock, full_day_name, listed

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.times import DayTimes, KindTimes, Times
    from blockrun.site import Site

_COLUMNS: Final = {"pour": 5, "sides off": 9, "strip": 9, "move": 5, "lay": 6}
_RULES: Final = {"EN": "EN 1992-1-1", "arrhenius": "Arrhenius", "nurse-saul": "Nurse and Saul"}


def times_text(site: Site, kinds: Sequence[KindTimes], width: int) -> Text:
    """Write the times of some days, mould by mould."""
    page = Page(width)
    page.line((site.name, HEADING))
    for said in how_said(site):
        page.line((said, QUIET))
    for of_kind in kinds:
        page.blank()
        page.rule(kinds_said(of_kind))
        for day in of_kind.days:
            page.blank()
            _write_day(page, day, site)
    page.blank()
    page.line((SHORT, QUIET))
    return page.text()


def how_said(site: Site) -> Iterator[str]:
    """Say how ages were reckoned, and from what weather."""
    curing = site.curing
    warm = "blocks as warm as the air" if curing.heat == "as the air" else f"{curing.cement_heat} cement, heat modelled"
    yield f"Ages by {_RULES[curing.age]}, {warm}, from the minute at which the last pour of a mould ends."
    yield "Sides off, strip and lay: the first working time at which it is old enough. Move: right after the strip."
    if not site.weather.given or site.weather.typical:
        yield site.weather.said_beyond()


def kinds_said(of_kind: KindTimes) -> str:
    """Name the kinds of mould that a table is for."""
    return listed([kind.kind for kind in of_kind.kinds])


def _write_day(page: Page, day: DayTimes, site: Site) -> None:
    air = air_said(site.weather.day(day.day), site.units)
    page.line((f"{glued(full_day_name(day.day))}, {air}", HEADING))
    if day.stopped:
        page.line((f"No pour: {day.stopped}.", ALARM))
        return
    shown = [name for name in _COLUMNS if name != "sides off" or day.hours[0].sides is not None]
    page.line(glued(_row(shown, {name: name for name in shown})))
    for times in day.hours:
        page.line(glued(_row(shown, _cells(times))))
    page.line(f"Old enough from {_when(day.hours[0].ripe)} to {_when(day.hours[-1].ripe)}.")
    for times in day.last:
        page.line(last_said(times, day.hours))


def last_said(times: Times, hours: Sequence[Times]) -> str:
    """Say until when to pour for a strip on one day, not the next."""
    after = next((one.strip for one in hours if one.strip.date() > times.strip.date()), None)
    later = f", later {_day(after)}" if after else ""
    return f"Poured by {clock(times.poured)} it is stripped {_when(times.strip)}{later}."


def _cells(times: Times) -> dict[str, str]:
    sides = "" if times.sides is None else _when(times.sides)
    return {
        "pour": clock(times.poured),
        "sides off": sides,
        "strip": _when(times.strip),
        "move": clock(times.move),
        "lay": f"{times.lay.day:>2} {MONTHS[times.lay.month - 1]}",
    }


def _row(shown: Sequence[str], cells: dict[str, str]) -> str:
    return " ".join(f"{cells[name]:<{_COLUMNS[name]}}" for name in shown).rstrip()


def _when(moment: datetime) -> str:
    return f"{_day(moment)} {clock(moment)}"


def _day(moment: datetime | date) -> str:
    return WEEKDAYS[moment.weekday()]
