"""What may be typed after a command: the kinds of places and options, and the reading of those that several share."""

from __future__ import annotations

import math
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Final

import typer

from blockrun.errors import BadInput

# what stands in each place is said in the words of the command; a list of places would show types, as "<path>"
SiteFile = Annotated[Path, typer.Argument(metavar="SITE", hidden=True)]
OrderFile = Annotated[Path, typer.Argument(metavar="ORDER", hidden=True)]
PlanDirectory = Annotated[Path, typer.Argument(metavar="DIR", hidden=True)]

FirstDay = Annotated[str | None, typer.Option("--from", metavar="DAY", help="First day, such as 2027-04-06.")]

PLAN_SECONDS: Final = 60
"""Time to make a plan in, unless told."""


class Units(StrEnum):
    """Systems of units results print in."""

    SI = "SI"
    US = "US"


def day(written: str | None, option: str) -> date | None:
    """Read a day that an option names, if it names one."""
    if written is None:
        return None
    try:
        return date.fromisoformat(written)
    except ValueError:
        todo = "Write the day as year-month-day, for example 2027-04-06."
        raise BadInput(f"{option} {written} is not a day", todo, name=option, value=written) from None


def time_allowed(written: str | None) -> float | None:
    """Read the seconds that ``--seconds`` allows, if it is there."""
    if written is None:
        return None
    todo = "Write how many seconds it may take, 1 or more, for example --seconds 300."
    try:
        seconds = float(written)
    except ValueError:
        raise BadInput(f"--seconds {written} is not a number", todo, name="--seconds", value=written) from None
    if not 1 <= seconds < math.inf:
        raise BadInput(f"--seconds {written} cannot be kept", todo, name="--seconds", value=written, limit=1)
    return seconds
