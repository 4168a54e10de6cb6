"""One digest for equal content, whatever the order of rows, the comments and the spacing of the file it came from."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from collections.abc import Iterator, Mapping, Set
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from pydantic import BaseModel

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


def digest(content: object) -> str:
    """SHA-256, in hexadecimal, of content that was read.

    Models, dataclasses, mappings and sets count by their content; a row of any of these counts whatever its order,
    a row of numbers or text in its order. Floats count to ten significant digits. A field at its default counts as one
    left out, so that a key added later changes nothing where it is not used.
    """
    text = json.dumps(_plain(content), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _plain(content: object) -> Any:
    if isinstance(content, BaseModel):
        return {name: _plain(value) for name, value in _said_in_model(content)}
    if dataclasses.is_dataclass(content) and not isinstance(content, type):
        return {name: _plain(value) for name, value in _said_in_dataclass(content)}
    if isinstance(content, Mapping):
        return {str(key): _plain(value) for key, value in content.items()}
    if isinstance(content, Set):
        return sorted((_plain(value) for value in content), key=json.dumps)
    if isinstance(content, (tuple, list)):
        plain = [_plain(value) for value in content]
        return sorted(plain, key=_text) if any(isinstance(value, dict) for value in plain) else plain
    return _scalar(content)


def _said_in_model(model: BaseModel) -> Iterator[tuple[str, object]]:
    """Names and values of the fields that are not at their defaults."""
    for name, field in type(model).model_fields.items():
        value = getattr(model, name)
        if field.is_required() or value != field.get_default(call_default_factory=True):
            yield name, value


def _said_in_dataclass(content: DataclassInstance) -> Iterator[tuple[str, object]]:
    """The same, of the fields by which two are compared."""
    for field in dataclasses.fields(content):
        value = getattr(content, field.name)
        default = field.default if field.default_factory is dataclasses.MISSING else field.default_factory()
        if field.compare and value != default:
            yield field.name, value


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
