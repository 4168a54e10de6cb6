"""Moments of the yard's day as people write them: in a table, or on a phone."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from typing import Final

from blockrun.errors import BadInput

AS_IN: Final = "Write day and time, such as 2027-04-13 14:00."

_WHOLE: Final = re.compile(r"(\d{4}-\d\d-\d\d)[T ]\s*(\d{1,2}:\d\d)(?::00)?", re.ASCII)
_OF_LATE: Final = re.compile(r"(?:(today|yesterday)\s+)?(\d{1,2}:\d\d)", re.ASCII | re.IGNORECASE)


def read_moment(text: str) -> datetime:
    """A day and a minute of it: ``2027-04-13 14:00``, with a ``T`` or a blank between.

    Raises
    ------
    BadInput : it is something else.
    """
    found = _WHOLE.fullmatch(text.strip())
    if not found:
        raise BadInput(f"{text} is not a day and a time", AS_IN, value=text)
    return _at(text, found[1], found[2])


def moment_meant(text: str, now: datetime) -> datetime:
    """A moment as somebody says it: as for `read_moment`, or ``10:40``, ``today 10:40``, ``yesterday 16:00``.

    Parameters
    ----------
    now : tells which day is today.

    Raises
    ------
    BadInput : it is something else.
    """
    found = _OF_LATE.fullmatch(text.strip())
    if not found:
        try:
            return read_moment(text)
        except BadInput as fault:
            fault.todo = f"{AS_IN[:-1]}; or 10:40, or yesterday 16:00."
            raise
    day = now.date() - timedelta(days=(found[1] or "").lower() == "yesterday")
    return _at(text, day.isoformat(), found[2])


def _at(text: str, day: str, clock: str) -> datetime:
    hour, minute = clock.split(":")
    try:
        return datetime.combine(date.fromisoformat(day), time(int(hour), int(minute)))
    except ValueError:
        raise BadInput(f"{text}: there is no such moment", AS_IN, value=text) from None
