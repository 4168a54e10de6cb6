"""How a value stands in a site or an order file: read, limited and described to editors.

Values come as text from a file and must carry their unit; from Python they come as numbers already in the unit
that the field's name ends in. Both pass the same limits.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from blockrun import units
from blockrun.errors import BadInput


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
        """A limit in the unit that the value given was written in; numbers from Python are in the base unit's."""
        if not self.dimension:
            return units.digits(limit)
        limit *= self.base_units
        if isinstance(given, str) and self.dimension in units.UNITS:
            return units.show_in(limit, self.dimension, units.read(given, self.dimension).unit)
        return units.show(limit, self.dimension, "SI")

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
