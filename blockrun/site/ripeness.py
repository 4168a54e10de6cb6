"""When something may be done to a block: at an age, or at a strength."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.site.times import A_YEAR_MIN, TEN_YEARS_MIN
from blockrun.site.written import Written

_STRONGEST_MPA: Final = 100.0


@dataclass(frozen=True)
class Strength:
    """A strength that blocks are to have, in MPa."""

    mpa: float


def _read(text: str, usual: str, age: Callable[[float], float]) -> float | Strength:
    """A strength where the text is one, else an age by its minutes; a bare number is answered in the usual unit."""
    try:
        strength = units.read(text, "strength")
    except BadInput:
        return age(units.read(text, "time", usual=usual).value)
    if not 0 < strength.value <= _STRONGEST_MPA:
        most = units.show_in(_STRONGEST_MPA, "strength", strength.unit)
        raise BadInput(f"{text} is out of range; it must be more than 0 and at most {most}", "Write 0.5 MPa, say.")
    return Strength(strength.value)


AgeOrStrength = Annotated[
    float | Strength,
    Written(
        due="a time or a strength",
        example="24 h",
        read=lambda text: _read(text, "h", lambda minutes: minutes / 60),
        schema={"pattern": units.pattern()},
        above=0,
        most=A_YEAR_MIN / 60,
        dimension="time",
        base_units=60,
    ),
]
"""Hours at 20 degC, or a strength."""

WaitOrStrength = Annotated[
    int | Strength,
    Written(
        due="a time or a strength",
        example="28 d",
        read=lambda text: _read(text, "d", lambda minutes: math.ceil(minutes - 1e-9)),
        schema={"pattern": units.pattern()},
        least=0,
        most=TEN_YEARS_MIN,
        dimension="time",
    ),
]
"""Minutes of the calendar, or a strength."""

Sure = Annotated[
    float,
    Written(
        due="a percentage",
        example="95 %",
        read=lambda text: float(units.percent(text)),
        schema={"pattern": r"^\d+(\.\d+)?\s*%$"},
        least=0.5,
        most=0.999,
        dimension="fraction",
    ),
]
"""A share of one that is at least a half."""
