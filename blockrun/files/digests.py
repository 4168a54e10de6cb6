"""One digest for equal content, whatever the order of rows, the comments and the spacing of the file it came from."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from collections.abc import Iterator, Mapping, Set
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Any, Final

from pydantic import BaseModel

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

ADDED_LATER: Final = {"added": "later"}
"""Metadata of a dataclass's field that came after digests were first saved."""

COUNTED_LATER: Final = {**ADDED_LATER, "counted": "later"}
"""Metadata of such a field that digests left out at first, even where it was used."""


def digest(content: object, *, former: bool = False) -> str:
    """SHA-256, in hexadecimal, of content that was read.

    Models, dataclasses, mappings and sets count by their content; a row of any of these counts whatever its order,
    a row of numbers or text in its order. Floats count to ten significant digits. A model's field at its default
    counts as one left out, so that a key added later changes nothing where it is not used; so does a dataclass's that
    is marked `ADDED_LATER`. A ``former`` digest leaves out what is marked `COUNTED_LATER`, as those saved before did.
    """
    text = json.dumps(_plain(content, former), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _plain(content: object, former: bool) -> Any:
    plain_one = partial(_plain, former=former)
    if isinstance(content, BaseModel):
        values = {name: getattr(content, name) for name in type(content).model_fields}
        return {name: plain_one(value) for name, value in values.items() if not _at_default(content, name, value)}
    if dataclasses.is_dataclass(content) and not isinstance(content, type):
        return {name: plain_one(value) for name, value in _counted(content, former)}
    if isinstance(content, Mapping):
        return {str(key): plain_one(value) for key, value in content.items()}
    if isinstance(content, Set):
        return sorted((plain_one(value) for value in content), key=json.dumps)
    if isinstance(content, (tuple, list)):
        plain = [plain_one(value) for value in content]
        return sorted(plain, key=_text) if any(isinstance(value, dict) for value in plain) else plain
    return _scalar(content)


def _counted(content: DataclassInstance, former: bool) -> Iterator[tuple[str, object]]:
    """Names and values of the fields of a dataclass that a digest counts."""
    for field in dataclasses.fields(content):
        value = getattr(content, field.name)
        unused = "added" in field.metadata and value == field.default
        if field.compare and not unused and not (former and "counted" in field.metadata):
            yield field.name, value


def _at_default(model: BaseModel, name: str, value: object) -> bool:
    field = type(model).model_fields[name]
    return not field.is_required() and bool(value == field.get_default(call_default_factory=True))


def _scalar(content: object) -> Any:
    if content is None or isinstance(content, (bool, str)):
        return content
    if isinstance(content, (int, float, Decimal, Fraction)):
        return f"{float(content):.10g}"
    if isinstance(content, date):
        return content.isoformat()
    raise TypeError(f"no digest of a {type(content).__name__}")


def _text(plain: object) -> str:
    return json.dumps(plain, sort_keys=True)
