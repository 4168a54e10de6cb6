"""The kinds of values in a site or an order file."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.days import WEEKDAYS
from blockrun.site.values import (
    NAME_LENGTH,
    read_clock,
    read_day,
    read_flag,
    read_fraction,
    read_kind,
    read_name,
    read_number,
    read_size,
    read_span,
    read_weekday,
    read_whole,
)
from blockrun.site.written import Written


def quantity(
    dimension: str, example: str, *, above: float | None = None, least: float | None = None, most: float | None = None
) -> Written:
    """A number with a unit, kept as a float in the base unit of its dimension."""
    return Written(
        due=units.named(dimension),
        example=example,
        read=_reader(dimension, example),
        schema={"pattern": units.pattern()},
        above=above,
        least=least,
        most=most,
        dimension=dimension,
    )


def whole_minutes(
    example: str, *, above: float | None = None, least: float | None = None, most: float = 1440
) -> Written:
    """A length of time, rounded up to whole minutes; most is in minutes, a day unless told."""
    read = _reader("time", example)
    return Written(
        due="a time",
        example=example,
        read=lambda text: math.ceil(read(text) - 1e-9),
        schema={"pattern": units.pattern()},
        above=above,
        least=least,
        most=most,
        dimension="time",
    )


def _reader(dimension: str, example: str) -> Callable[[str], float]:
    """How to read a quantity; a bare number is answered in the unit of the example."""
    usual = example.partition(" ")[2]
    return lambda text: units.read(text, dimension, usual=usual).value


def number(due: str, example: str, *, above: float | None = None, least: float | None = None, most: float) -> Written:
    """A bare number that has no unit by its nature, or whose unit its key names."""
    return Written(
        due, example, lambda text: float(read_number(text)), {"type": "number"}, above=above, least=least, most=most
    )


def whole(due: str, example: str, *, least: int = 1, most: int) -> Written:
    """A whole number."""
    return Written(due, example, read_whole, {"type": "integer", "minimum": least}, least=least, most=most)


def fraction(due: str, example: str, *, most: int) -> Written:
    """A number that may be written as a fraction, a fiftieth at least, kept exactly."""
    return Written(due, example, read_fraction, {"type": ["string", "number"]}, least=Fraction(1, 50), most=most)


def one_of(*words: str) -> Written:
    """One word of a few."""

    def read(text: str) -> str:
        if text.strip() not in words:
            raise BadInput(f"{text} is not known here", f"Write one of {', '.join(words)}.", value=text)
        return text.strip()

    return Written(f"one of {', '.join(words)}", words[0], read, {"enum": list(words)})


_WEEKDAY_PATTERN: Final = "^(" + "|".join(f"{day}|{day.title()}|{day.upper()}" for day in WEEKDAYS) + ")"
_CLOCK_PATTERN: Final = r"\d{1,2}:\d\d"
_NAME_SCHEMA: Final = {"minLength": 1, "maxLength": NAME_LENGTH}
Name = Annotated[str, Written("a name", "drum", read_name, _NAME_SCHEMA)]
Kind = Annotated[str, Written("a name", "gang-4", read_kind, _NAME_SCHEMA | {"pattern": "^[^/]+$"})]
Day = Annotated[date, Written("a date", "2027-04-05", read_day, {"format": "date"})]
Clock = Annotated[int, Written("a time of day", "08:30", read_clock, {"pattern": f"^{_CLOCK_PATTERN}$"}, most=1440)]
Span = Annotated[
    tuple[int, int],
    Written(
        "a span of time", "07:30-16:30", read_span, {"pattern": rf"^{_CLOCK_PATTERN}\s*[-\u2013]\s*{_CLOCK_PATTERN}$"}
    ),
]
Weekday = Annotated[int, Written("a day of the week", "mon", read_weekday, {"pattern": _WEEKDAY_PATTERN}, most=6)]
Flag = Annotated[bool, Written("true or false", "true", read_flag, {"type": "boolean"})]
People = Annotated[int, whole("a number of people", "3", most=200)]
Ratio = Annotated[
    tuple[float, float],
    Written("a ratio", "1:40", units.ratio, {"pattern": r"^\d+(\.\d+)?\s*:\s*\d+(\.\d+)?$"}),
]
Size = Annotated[
    tuple[float, float, float],
    Written("a size", "600 x 300 x 200 mm", read_size, {"pattern": r"^.+[xX\u00d7].+[xX\u00d7].+[^0-9.]$"}),
]
Price = Annotated[float, number("a price", "6.10", least=0, most=1_000_000)]
PERCENT: Final = {"pattern": r"^\d+(\.\d+)?\s*%$"}
Percent = Annotated[
    float,
    Written(
        "a percentage", "3 %", lambda text: float(units.percent(text)), PERCENT, least=0, most=1, dimension="fraction"
    ),
]
ExactPercent = Annotated[
    Decimal, Written("a percentage", "5 %", units.percent, PERCENT, least=0, most=1, dimension="fraction")
]
