"""The clock on the wall of the yard, the one place where it is read; all below is told what time it is."""

from __future__ import annotations

from datetime import date, datetime


def stamp() -> datetime:
    """The moment, with its zone, to be written beside what is kept."""
    return datetime.now().astimezone()


def this_minute() -> datetime:
    """The minute, without a zone, as all times of a yard."""
    return stamp().replace(second=0, microsecond=0, tzinfo=None)


def today() -> date:
    """The day."""
    return stamp().date()
