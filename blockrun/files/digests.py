"""One digest for equal content, whatever the order of rows, the comments and the spacing of the file it came from."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from collections.abc import Mapping, Set
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final

from pydantic import BaseModel

ADDED_LATER: Final = {"added": "later"}
"""Metadata of a dataclass's field that came after digests were first saved."""


def digest(content: object) -> str:
    """SHA-256, in hexadecimal, of content that was read.

    Models, dataclasses, mappings and sets count by their content; a row of any of these counts whatever its order,
    a row of numbers or text in its order. Floats count to ten significant digits. A model's field at its default
    counts as one left out, so that a key added later changes nothing where it is not used; so does a dataclass's that
    is marked `ADDED_LATER`.
    """
    text = json.dumps(_plain(content), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _plain(content: object) -> Any:
    if isinstance(content, BaseModel):
        values = {name: getattr(content, name) for name in type(content).model_fields}
        return {name: _plain(value) for name, value in values.items() if not _at_default(content, name, value)}
    if dataclasses.is_dataclass(content) and not isinstance(content, type):
        fields = [field for field in dataclasses.fields(content) if field.compare]
        values = {field.name: (getattr(content, field.name), field) for field in fields}
        return {
            name: _plain(value)
            for name, (value, field) in values.items()
            if not (field.metadata == ADDED_LATER and value == field.default)
        }
    if isinstance(content, Mapping):
        return {str(key): _plain(value) for key, value in content.items()}
    if isinstance(content, Set):
        return sorted((_plain(value) for value in content), key=json.dumps)
    if isinstance(content, (tuple, list)):
        plain = [_plain(value) for value in content]
        return sorted(plain, key=_text) if any(isinstance(value, dict) for value in plain) else plain
    return _scalar(content)


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
