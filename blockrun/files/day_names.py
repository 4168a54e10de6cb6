"""Days and moments in the words of the yard, the same in every locale."""

from __future__ import annotations

from datetime import date, datetime
from typing import Final

WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def short_day_name(day: date) -> str:
    """``6 Apr``."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def day_name(day: date) -> str:
    """``Tue 6 Apr``."""
    return f"{WEEKDAYS[day.weekday()]} {short_day_name(day)}"


def full_day_name(day: date) -> str:
    """``Tue 6 Apr 2027``."""
    return f"{day_name(day)} {day.year}"


def clock(moment: datetime | int) -> str:
    """``09:10``, of a moment or of a minute of the day."""
    if isinstance(moment, datetime):
        return f"{moment.hour:02}:{moment.minute:02}"
    return f"{moment // 60:02}:{moment % 60:02}"


def moment_name(moment: datetime) -> str:
    """``Tue 6 Apr 14:00``."""
    return f"{day_name(moment.date())} {clock(moment)}"
