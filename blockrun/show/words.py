"""Moments and days, courses, batches and names of moulds in the words of the yard."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Final

from blockrun.files.day_names import WEEKDAYS, clock, day_name, full_day_name, moment_name
from blockrun.show.page import glued
from blockrun.units import listed

_NUMBERED: Final = re.compile(r"(.*?)(\d+)$")


def which_plan_said(number: int, made: datetime | None, after: int | None) -> str:
    """Say which plan of a job one is, so that what hangs on a wall can be told from what takes its place.

    Parameters
    ----------
    number, made : of the plan; the moment may not be known.
    after : number of the plan whose place it took; None for one from the start.

    Returns
    -------
    ``plan 3 of Fri 9 Apr 2027, 18:53, in place of plan 2``.
    """
    of = f" of {full_day_name(made.date())}, {clock(made)}" if made else ""
    return f"plan {number}{of}" + (f", in place of plan {after}" if after else "")


def moment_said(moment: datetime) -> str:
    """``Tue 6 Apr 14:00``."""
    return glued(moment_name(moment))


def at_said(moment: datetime, day: date) -> str:
    """The time of day, with the day where it is another one."""
    return clock(moment) if moment.date() == day else moment_said(moment)


def moment_before(moment: datetime, day: date) -> str:
    """Say a moment as short as one day or week makes it clear: ``05:10``, ``Mon 22:10``, ``Mon 5 Apr``."""
    if moment.date() == day:
        return clock(moment)
    within_a_week = (day - moment.date()).days < len(WEEKDAYS)
    return f"{WEEKDAYS[moment.weekday()]} {clock(moment)}" if within_a_week else day_name(moment.date())


def days_said(first: date, last: date) -> str:
    """``Mon 5 Apr to Fri 9 Apr``; one day by itself."""
    return day_name(first) if first == last else f"{day_name(first)} to {day_name(last)}"


def place_said(part: str, course: int | None) -> str:
    """``store course 3``; the part alone where a course is none."""
    return f"{part} {glued(f'course {course}')}" if course else part


def batches_said(numbers: Sequence[int]) -> str:
    """``batch 3``, ``batches 3, 4 and 7``."""
    return glued(f"{'batch' if len(numbers) == 1 else 'batches'} {listed([*map(str, numbers)])}")


def capital(words: str) -> str:
    """``Wet the racks``: only the first letter is changed, so that names stay as they are."""
    return words[:1].upper() + words[1:]


def named_together(names: Iterable[str]) -> str:
    """Numbered names in short: ``gang-4/01-03, gang-4/07`` for four moulds.

    Parameters
    ----------
    names : such as ``gang-4/03`` or ``tray-3/b07``, in any order; said in order of stem and number.
    """
    runs: list[tuple[str, str, str]] = []  # stem, first and last number as written
    parted = {_stem_and_number(name) for name in names}
    for stem, digits in sorted(parted, key=lambda part: (part[0], int(part[1] or 0))):
        if runs and digits and runs[-1][0] == stem and _follows(runs[-1][2], digits):
            runs[-1] = (stem, runs[-1][1], digits)
        else:
            runs.append((stem, digits, digits))
    return ", ".join(stem + (first if first == last else f"{first}-{last}") for stem, first, last in runs)


def _stem_and_number(name: str) -> tuple[str, str]:
    match = _NUMBERED.match(name)
    return (match[1], match[2]) if match else (name, "")


def _follows(before: str, after: str) -> bool:
    return bool(before) and int(after) == int(before) + 1
