"""What is covered in the cold, when, and why."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.cure.hazards import COLD_C
from blockrun.files.day_names import day_name
from blockrun.show.day import Job
from blockrun.show.frost import MIDNIGHT, freezes_between, frost_ahead, frost_near, is_told
from blockrun.show.manned import until_somebody_is_there
from blockrun.show.page import glued
from blockrun.site.calendar import moment_at
from blockrun.units import listed, show_degrees

if TYPE_CHECKING:
    from blockrun.show.day import Day, OffRack
    from blockrun.site import DayWeather, Site

COVER_STACK: Final = "cover the stack"


class Covering(NamedTuple):
    """When something is covered, what, and why."""

    at: datetime
    what: str
    why: str


def covering(day: Day, site: Site) -> Covering | None:
    """When a day has blocks covered: on a cold one first of all, on the eve of one last of all.

    None where nobody or nothing is there, or where it is not cold; the morning after a cold day they are covered
    already, and a tick says that they still are.
    """
    what = covered(day, site)
    if not (what and day.people):
        return None
    opens, closes = site.calendar.open_min, site.calendar.close_min
    if _is_cold(day.weather):
        return Covering(moment_at(day.day, opens), what, f"{_degrees(day.weather, site)} today")
    for night in until_somebody_is_there(day.day, site):
        if _is_cold(air := site.weather.day(night)):
            why = f"{_degrees(air, site)} on {day_name(night)}, coldest before it is light"
            return Covering(moment_at(day.day, closes), what, why)
    return None


def covered(day: Day, site: Site) -> str:
    """What there is to be covered in the cold; blocks on the stack, old enough to be dry, only in frost."""
    on_stack = day.overnight.on_stack and frost_near(day.day, site)
    if not day.overnight.curing:
        return COVER_STACK if on_stack else ""
    return f"cover {listed([*setting(day), *(['stack'] if on_stack else [])])}"


def setting(day: Day) -> tuple[str, ...]:
    """In and on what blocks set on a day and in the night after it: moulds, racks."""
    tasks = {job.task if isinstance(job, Job) else "batch" for job in day.jobs}
    in_moulds = day.overnight.in_moulds or tasks & {"batch", "sides", "strip"}
    on_racks = day.overnight.on_racks or day.off_rack or "strip" in tasks
    return (*(["moulds"] if in_moulds else []), *(["racks"] if on_racks else []))


def left_on_rack(leaving: OffRack, site: Site) -> str:
    """What is better done with blocks that may leave a rack in frost, or before it; empty where there is none.

    Whether the places are needed for others that day, a plan says; the yard sees it.
    """
    at = leaving.first
    tonight = freezes_between(site.weather.day(at.date()), at.hour + at.minute / 60, MIDNIGHT)
    if not (tonight or frost_ahead(at.date(), site)):
        return ""
    return "frost: better left on the rack until it thaws, if it has room; else cover the stack"


def _is_cold(air: DayWeather) -> bool:
    return is_told(air) and air.min_c < COLD_C


def _degrees(air: DayWeather, site: Site) -> str:
    return glued(show_degrees(air.min_c, site.units))
