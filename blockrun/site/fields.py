"""The kinds of values that stand in a site or an order file: how each is written, read, limited and described to editors.

Values come as text from a file and must carry their unit; from Python they come as numbers already in the unit
that the field's name ends in. Both pass the same limits.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Final

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from blockrun import units
from blockrun.errors import BadInput

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_NAME_LENGTH: Final = 60
_FIRST_YEAR: Final = 2000
_LAST_YEAR: Final = 2199
_UNIT_ENDINGS: Final = ("_l_min", "_kg_m3", "_bags", "_min", "_deg", "_kg", "_mm", "_l", "_h", "_c")


def key_of(attribute: str) -> str:
    """The key a file uses for an attribute: its name without the unit at its end."""
    for ending in _UNIT_ENDINGS:
        if attribute.endswith(ending):
            return attribute.removesuffix(ending)
    return attribute


class FileModel(BaseModel):
    """A mapping in a site or order file: fixed once read, no unknown keys, keys without their unit."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, alias_generator=key_of, validate_by_name=True, validate_by_alias=True
    )


@dataclass(frozen=True)
class Written:
    """How one value is written in a file.

    Parameters
    ----------
    due : what is due, with its article, such as ``a volume``.
    example : one that may be written.
    read : text to value; raises BadInput.
    schema : what an editor may check, as JSON Schema.
    above, least, most : limits, in the unit of the value.
    unit : the unit of the value, for the limits' messages; a dimension of `units` prints them with it.
    """

    due: str
    example: str
    read: Callable[[str], Any]
    schema: dict[str, Any] = field(default_factory=dict, hash=False)
    above: float | None = None
    least: float | None = None
    most: float | None = None
    dimension: str = ""

    def value(self, given: object) -> object:
        """The value, read when it is text, within its limits.

        Raises
        ------
        BadInput : it cannot be read, or it is outside the limits.
        """
        if given is None:
            raise BadInput("is empty", f"Write {self.due}, for example {self.example}, or take the line out.")
        if isinstance(given, (list, dict)):
            kind = "a list" if isinstance(given, list) else "a mapping"
            raise BadInput(f"is {kind}, and {self.due} is due", f"Write {self.due}, for example {self.example}.")
        value = self.read(given) if isinstance(given, str) else given
        if isinstance(value, (int, float, Decimal, Fraction)) and not isinstance(value, bool):
            self._check_limits(value, given)
        return value

    def _check_limits(self, value: float | Decimal | Fraction, given: object) -> None:
        if not math.isfinite(value):
            raise BadInput(f"{given} is not a number", f"Write {self.due}, for example {self.example}.", value=given)
        if self.above is not None and value <= self.above:
            self._refuse(given, "more than", self.above)
        if self.least is not None and value < self.least:
            self._refuse(given, "at least", self.least)
        if self.most is not None and value > self.most:
            self._refuse(given, "at most", self.most)

    def _refuse(self, given: object, relation: str, limit: float) -> None:
        shown = units.show(limit, self.dimension) if self.dimension else units.digits(limit)
        raise BadInput(
            f"{given} is out of range; it must be {relation} {shown}",
            f"Write {self.due} of {relation} {shown}, for example {self.example}.",
            value=given,
            limit=limit,
        )

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Validate with `value` alone."""
        return core_schema.no_info_plain_validator_function(self.value)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Describe the written form, not the value kept."""
        return {"type": "string", **self.schema, "examples": [self.example]}


def quantity(
    dimension: str, example: str, *, above: float | None = None, least: float | None = None, most: float | None = None
) -> Written:
    """A number with a unit, kept as a float in the base unit of its dimension."""
    return Written(
        due=f"a {dimension.replace('rate', 'flow')}",
        example=example,
        read=lambda text: units.read(text, dimension).value,
        schema={"pattern": units.pattern(dimension)},
        above=above,
        least=least,
        most=most,
        dimension=dimension,
    )


def whole_minutes(
    example: str, *, above: float | None = None, least: float | None = None, most: float = 1440
) -> Written:
    """A length of time, rounded up to whole minutes; most is in minutes, a day unless told."""
    return Written(
        due="a time",
        example=example,
        read=lambda text: math.ceil(units.read(text, "time").value - 1e-9),
        schema={"pattern": units.pattern("time")},
        above=above,
        least=least,
        most=most,
        dimension="time",
    )


def hours(example: str) -> Written:
    """A length of time more than nought and at most a year, kept in hours."""
    return Written(
        due="a time",
        example=example,
        read=lambda text: units.read(text, "time").value / 60,
        schema={"pattern": units.pattern("time")},
        above=0,
        most=8760,
    )


def number(due: str, example: str, *, above: float | None = None, least: float | None = None, most: float) -> Written:
    """A bare number that has no unit by its nature, or whose unit its key names."""
    return Written(
        due, example, lambda text: float(read_number(text)), {"type": "number"}, above=above, least=least, most=most
    )


def whole(due: str, example: str, *, least: int = 1, most: int) -> Written:
    """A whole number."""
    return Written(due, example, read_whole, {"type": "integer", "minimum": least}, least=least, most=most)


def fraction(due: str, example: str, *, most: int) -> Written:
    """A number more than nought that may be written as a fraction, kept exactly."""
    return Written(due, example, read_fraction, {"type": ["string", "number"]}, above=0, most=most)


def read_number(text: str) -> Decimal:
    """A plain decimal number, exactly; no exponent, no comma, no not-a-number.

    Raises
    ------
    BadInput : anything else.
    """
    if not re.fullmatch(r"[+-]?\d{1,15}(\.\d{1,15})?", text.strip()):
        raise BadInput(f"{shorten(text)} is not a plain number", "Write a number such as 12 or 6.10.", value=text)
    return Decimal(text.strip())


def read_whole(text: str) -> int:
    """A whole number; ``12.0`` is one, ``010`` is not, since some programs read it as eight.

    Raises
    ------
    BadInput : anything else.
    """
    plain = text.strip()
    if re.fullmatch(r"[+-]?0\d+", plain):
        raise BadInput(f"{shorten(text)} starts with a nought", "Write the number without it.", value=text)
    if not re.fullmatch(r"[+-]?\d{1,15}(\.0{1,15})?", plain):
        raise BadInput(f"{shorten(text)} is not a whole number", "Write a whole number such as 12.", value=text)
    return int(plain.partition(".")[0])


def read_fraction(text: str) -> Fraction:
    """A number such as ``1/2``, ``1 1/2``, ``0.5`` or ``2``, exactly.

    Raises
    ------
    BadInput : anything else.
    """
    match = re.fullmatch(r"(?:(\d{1,6}) +)?(\d{1,6}/0*[1-9]\d{0,5})|[+-]?\d{1,9}(?:\.\d{1,9})?", text.strip())
    if not match:
        raise BadInput(f"{shorten(text)} is not a number or a fraction", "Write 1/2, 0.5 or 1.", value=text)
    return Fraction(match[1] or 0) + Fraction(match[2]) if match[2] else Fraction(text.strip())


def read_day(text: str) -> date:
    """A date written year-month-day.

    Raises
    ------
    BadInput : anything else, or a year before 2000 or after 2199.
    """
    todo = "Write the date as year-month-day, for example 2027-04-05."
    if not re.fullmatch(r"\d{4}-\d\d-\d\d", text.strip()):
        raise BadInput(f"{shorten(text)} is not a date", todo, value=text)
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise BadInput(f"{text} is not a day of the calendar", todo, value=text) from None
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        raise BadInput(f"{text} is not a year to plan in", todo, value=text, limit=_LAST_YEAR)
    return day


def read_clock(text: str) -> int:
    """A time of day such as ``07:30`` as minutes since midnight, 0 to 1440.

    Raises
    ------
    BadInput : anything else.
    """
    match = re.fullmatch(r"(\d{1,2}):(\d\d)", text.strip())
    minutes = int(match[1]) * 60 + int(match[2]) if match else -1
    if not match or int(match[2]) > 59 or minutes > 1440:
        raise BadInput(f"{shorten(text)} is not a time of day", "Write hours:minutes, for example 07:30.", value=text)
    return minutes


def read_span(text: str) -> tuple[int, int]:
    """Two times of day such as ``07:30-16:30``, the second after the first.

    Raises
    ------
    BadInput : anything else.
    """
    pieces = re.split(r" *[-–] *", text.strip())
    if len(pieces) != 2:
        raise BadInput(f"{shorten(text)} is not a span of time", "Write two times, for example 07:30-16:30.", value=text)
    start, end = read_clock(pieces[0]), read_clock(pieces[1])
    if start >= end:
        raise BadInput(
            f"{text} ends before it starts", "Write the earlier time first, for example 07:30-16:30.", value=text
        )
    return start, end


def read_weekday(text: str) -> int:
    """A day of the week such as ``mon``, from 0 for Monday.

    Raises
    ------
    BadInput : anything else.
    """
    if text.strip() not in WEEKDAYS:
        raise BadInput(f"{shorten(text)} is not a day of the week", f"Write some of {', '.join(WEEKDAYS)}.", value=text)
    return WEEKDAYS.index(text.strip())


def read_flag(text: str) -> bool:
    """``true`` or ``false``.

    Raises
    ------
    BadInput : anything else.
    """
    if text.strip() not in ("true", "false"):
        raise BadInput(f"{shorten(text)} is neither true nor false", "Write true or false.", value=text)
    return text.strip() == "true"


def read_name(text: str) -> str:
    """A name of one printable line, at most sixty characters, spaces at its ends taken off.

    Raises
    ------
    BadInput : empty, too long, or with characters that do not print.
    """
    name = text.strip()
    if not name:
        raise BadInput("is an empty name", "Write a name of one line.", value=text)
    if len(name) > _NAME_LENGTH:
        raise BadInput(f"{shorten(name)} is longer than {_NAME_LENGTH} characters", "Write a shorter name.", value=name)
    if not name.isprintable():
        raise BadInput(f"{shorten(name)} has characters that do not print", "Write a name of one line.", value=name)
    return name


def read_size(text: str) -> tuple[float, float, float]:
    """Length, height and thickness in mm, each more than nought and at most 10 m, to a millionth of a millimetre.

    Raises
    ------
    BadInput : anything else.
    """
    length, height, thickness = (round(side, 6) for side in units.size(text))
    if min(length, height, thickness) <= 0 or max(length, height, thickness) > 10_000:
        raise BadInput(f"{text}: a side must be more than 0 and at most 10 m", "Write real sides.", value=text)
    return length, height, thickness


def shorten(text: str) -> str:
    """The text as it may stand in a sentence: printable, at most forty characters."""
    plain = "".join(char if char.isprintable() else " " for char in text).strip()
    if not plain:
        return "nothing"
    return plain if len(plain) <= 40 else plain[:37] + "..."


_CLOCK_PATTERN: Final = r"\d{1,2}:\d\d"

Name = Annotated[str, Written("a name", "drum", read_name, {"minLength": 1, "maxLength": _NAME_LENGTH})]
Day = Annotated[date, Written("a date", "2027-04-05", read_day, {"format": "date"})]
Clock = Annotated[int, Written("a time of day", "08:30", read_clock, {"pattern": f"^{_CLOCK_PATTERN}$"}, most=1440)]
Span = Annotated[
    tuple[int, int],
    Written("a span of time", "07:30-16:30", read_span, {"pattern": f"^{_CLOCK_PATTERN} *- *{_CLOCK_PATTERN}$"}),
]
Weekday = Annotated[int, Written("a day of the week", "mon", read_weekday, {"enum": list(WEEKDAYS)}, most=6)]
Flag = Annotated[bool, Written("true or false", "true", read_flag, {"type": "boolean"})]
People = Annotated[int, whole("a number of people", "3", most=200)]
Ratio = Annotated[
    tuple[float, float],
    Written("a ratio", "1:40", units.ratio, {"pattern": r"^\d+(\.\d+)? *: *\d+(\.\d+)?$"}),
]
Size = Annotated[
    tuple[float, float, float],
    Written("a size", "600 x 300 x 200 mm", read_size, {"pattern": r"^.+ x .+ x .+ ?(mm|cm|m|in|ft|yd)$"}),
]
Price = Annotated[float, number("a price", "6.10", least=0, most=1_000_000)]
_PERCENT: Final = {"pattern": r"^\d+(\.\d+)? *%$"}
Percent = Annotated[
    float,
    Written("a percentage", "3 %", lambda text: float(units.percent(text)), _PERCENT, least=0, most=1, dimension="fraction"),
]
ExactPercent = Annotated[
    Decimal, Written("a percentage", "5 %", units.percent, _PERCENT, least=0, most=1, dimension="fraction")
]
