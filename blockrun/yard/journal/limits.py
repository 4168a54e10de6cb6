"""What is beyond the limits of an event, in words of the yard."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from pydantic import ValidationError

from blockrun.errors import BadInput
from blockrun.units import digits

_CALLED: Final = {
    "load_kn": ("the load", " kN"),
    "length_mm": ("a side", " mm"),
    "width_mm": ("a side", " mm"),
    "age_d": ("the age", " days"),
    "dry_density_kg_m3": ("the dry density", " kg/m3"),
    "amount": ("the amount", ""),
    "count": ("the number of blocks", ""),
    "batch": ("the number of the batch", ""),
    "people": ("the number of people", ""),
    "who": ("who did it", ""),
    "why": ("the reason", ""),
    "words": ("the note", ""),
    "remark": ("the remark", ""),
    "lot": ("the lot", ""),
    "marked": ("what is written on it", ""),
    "where": ("the place", ""),
}
"""What people call a number or words of an event, and the unit of its limits."""

_RELATIONS: Final = {"gt": "is not more than", "ge": "is under", "lt": "is not under", "le": "is more than"}


@contextmanager
def told_in_words() -> Iterator[None]:
    """Say in words what an event that is made here cannot tell.

    Raises
    ------
    BadInput : something of it is beyond its limits; of numbers without what to do, for its form says that.
    """
    try:
        yield
    except ValidationError as error:
        raise _said(error) from error


def _said(error: ValidationError) -> BadInput:
    fault = error.errors(include_url=False, include_input=False)[0]
    place = next((str(step) for step in reversed(fault["loc"]) if str(step) in _CALLED), "")
    name, unit = _CALLED.get(place, ("something of it", ""))
    limits = fault.get("ctx", {})
    if longest := limits.get("max_length"):
        return BadInput(f"{name} is longer than {longest} letters", "Make it shorter.")
    relation = next((each for each in _RELATIONS if each in limits), None)
    if relation is None:
        return BadInput(f"{name} cannot be so")
    return BadInput(f"{name} {_RELATIONS[relation]} {digits(limits[relation])}{unit}")
