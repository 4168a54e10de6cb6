"""The kinds of values in a site or an order file: how each is written, read, limited and described to editors.

Values come as text from a file and must carry their unit; from Python they come as numbers already in the unit
that the field's name ends in. Both pass the same limits.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Final, TypeVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

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

_UNIT_ENDINGS: Final = ("_l_min", "_kg_m3", "_kj_mol", "_bags", "_min", "_deg", "_kg", "_mm", "_l", "_h", "_c")


def key_of(attribute: str) -> str:
    """The key a file uses for an attribute: its name without the unit at its end."""
    for ending in _UNIT_ENDINGS:
        if attribute.endswith(ending):
            return attribute.removesuffix(ending)
    return attribute


def _for_editors(schema: dict[str, Any]) -> None:
    """Leave in a model's JSON Schema only what holds for a file: no values as they are kept, no null."""
    for entry in schema.get("properties", {}).values():
        entry.pop("title", None)
        entry.pop("default", None)
        for choice in entry.pop("anyOf", ()):
            entry.update(choice if choice.get("type") != "null" else {})


class FileModel(BaseModel):
    """A mapping in a site or order file: fixed once read, no unknown keys, keys without their unit."""

    in_sequence: ClassVar[frozenset[str]] = frozenset()
    """Lists whose order has a meaning of its own, such as the runs of a walk round a building."""

    model_config = ConfigDict(
        extra="forbid",
        defer_build=True,
        frozen=True,
        alias_generator=key_of,
        validate_by_name=True,
        validate_by_alias=True,
        json_schema_extra=_for_editors,
    )


Model = TypeVar("Model", bound=FileModel)


def in_order(model: Model) -> Model:
    """The same model with every list of mappings in it, at any depth, in one order that depends on content alone.

    Lists that a model names as `in_sequence` stay as they are.
    """
    kept = type(model).in_sequence
    update = {name: _in_order(getattr(model, name)) for name in type(model).model_fields if name not in kept}
    return model.model_copy(update=update)


def _in_order(value: object) -> object:
    if isinstance(value, FileModel):
        return in_order(value)
    if isinstance(value, tuple) and value and isinstance(value[0], FileModel):
        return tuple(sorted(map(in_order, value), key=repr))
    return value


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
    dimension : of `units`, to print the limits with their unit; empty for bare numbers.
    base_units : how many base units of the dimension one unit of the value and of its limits is.
    """

    due: str
    example: str
    read: Callable[[str], Any]
    schema: dict[str, Any] = field(default_factory=dict, hash=False)
    above: float | None = None
    least: float | Fraction | None = None
    most: float | None = None
    dimension: str = ""
    base_units: float = 1

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
        value = self._read(given) if isinstance(given, str) else given
        if isinstance(value, (int, float, Decimal, Fraction)) and not isinstance(value, bool):
            self._check_limits(value, given)
        return value

    def _read(self, given: str) -> object:
        """What is written; a number that stands alone is answered in units with which it is within the limits."""
        try:
            return self.read(given)
        except units.Unitless as fault:
            if self.dimension == fault.dimension:
                self._offer(fault, units.plain(given))
            raise

    def _offer(self, fault: units.Unitless, bare: str) -> None:
        if bare[:1] in "+-":
            return
        offered = units.offered(bare, self.dimension, self.example.partition(" ")[2], self._is_within)
        if offered:
            fault.todo = f"{bare} of what? Write {offered}."

    def _is_within(self, base: float) -> bool:
        value = base / self.base_units
        try:
            self._check_limits(value, value)
        except BadInput:
            return False
        return True

    def _check_limits(self, value: float | Decimal | Fraction, given: object) -> None:
        if not math.isfinite(value):
            raise BadInput(f"{given} is not a number", f"Write {self.due}, for example {self.example}.", value=given)
        if self.above is not None and value <= self.above:
            self._refuse(given, "more than", self.above)
        if self.least is not None and value < self.least:
            self._refuse(given, "at least", float(self.least))
        if self.most is not None and value > self.most:
            self._refuse(given, "at most", self.most)

    def _refuse(self, given: object, relation: str, limit: float) -> None:
        shown = self._shown(limit, given)
        raise BadInput(
            f"{given} is out of range; it must be {relation} {shown}",
            f"Write {self.due} of {relation} {shown}, for example {self.example}.",
            value=given,
            limit=limit,
        )

    def _shown(self, limit: float, given: object) -> str:
        """A limit in the unit that the value given was written in."""
        if not self.dimension:
            return units.digits(limit)
        limit *= self.base_units
        if isinstance(given, str) and self.dimension in units.UNITS:
            return units.show_in(limit, self.dimension, units.read(given, self.dimension).unit)
        return units.show(limit, self.dimension)

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read with `value`; what Python gives must be of the field's type."""
        return core_schema.no_info_before_validator_function(self.value, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Describe the written form, not the value kept."""
        schema = {"type": "string", **self.schema}
        return schema | ({"examples": [self.example]} if schema["type"] == "string" else {})


@dataclass(frozen=True)
class Named:
    """How a field names another file whose content is its value.

    Parameters
    ----------
    due, example : as in `Written`.
    kind : class of the content.
    find : the reference and pydantic's information (its context a `References`) to the content; raises BadInput.
    """

    due: str
    example: str
    kind: type
    find: Callable[[str, ValidationInfo], Any]

    def value(self, given: object, info: ValidationInfo) -> object:
        """The content, read when a reference is given.

        Raises
        ------
        BadInput : there is no such file, or something in it is wrong.
        """
        if isinstance(given, self.kind):
            return given
        if not isinstance(given, str) or not given.strip() or not given.isprintable():
            raise BadInput(f"{self.due} is due", f"Write the name of a file, for example {self.example}.")
        return self.find(given.strip(), info)

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Validate with `value` alone."""
        return core_schema.with_info_plain_validator_function(self.value)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Describe the reference, not the content."""
        return {"type": "string", "minLength": 1, "examples": [self.example]}


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
