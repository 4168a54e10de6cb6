"""Moments of the yard's day as people say them."""

from __future__ import annotations

import re
from datetime import date, datetime, time
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.day_names import short_day_name
from blockrun.files.days import Span, day_meant

AS_IN: Final = "Write day and time, such as 2027-04-13 14:00."

_TIME: Final = r"(\d{1,2}[:.]\d\d)(?::00)?"
"""A time of day; a cell of a workbook that holds one has seconds, too."""
_SAID: Final = re.compile(rf"(?:(.*)(?:(?<=\d)T|\s+))?{_TIME}", re.ASCII)
_CLOCK: Final = re.compile(_TIME, re.ASCII)


def moment_meant(text: str, now: datetime, span: Span) -> datetime:
    """A moment as somebody says it: ``2027-04-13 14:00``, ``10:40``, ``yesterday 16:00``, ``Fri 9 Apr 08:05``.

    Parameters
    ----------
    text : between hours and minutes stands ``:`` or a point.
    now : tells which day is today.
    span : in which a day without a year lies.

    Raises
    ------
    BadInput : it is something else, or may be in several years.
    """
    found = _SAID.fullmatch(text.strip())
    day = day_meant((found[1] or "today").rstrip(", "), now.date(), span) if found else None
    if not found or day is None:
        todo = f'{AS_IN[:-1]}; or "{short_day_name(now)} 14:00", 10:40, "yesterday 16:00".'
        raise BadInput(f"{text} is not a day and a time", todo, value=text)
    return _at(text, day, found[2])


def is_clock(text: str) -> bool:
    """Whether a text tells a time of day alone."""
    return _CLOCK.fullmatch(text.strip()) is not None


def _at(text: str, day: date, clock: str) -> datetime:
    hour, minute = re.split("[:.]", clock)
    try:
        return datetime.combine(day, time(int(hour), int(minute)))
    except ValueError:
        raise BadInput(f"{text}: there is no such moment", AS_IN, value=text) from None
