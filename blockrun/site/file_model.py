"""Mappings in a site or an order file: which keys they have, and in which order their lists count."""

from __future__ import annotations

from typing import Any, ClassVar, Final, TypeVar

from pydantic import BaseModel, ConfigDict

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

    Lists that a model names as `in_sequence` stay as they are. What a file does not say stays unsaid: of some keys it
    matters whether they were written, and a copy takes all that it is given for written.
    """
    told = model.model_fields_set - type(model).in_sequence
    return model.model_copy(update={name: _in_order(getattr(model, name)) for name in told})


def _in_order(value: object) -> object:
    if isinstance(value, FileModel):
        return in_order(value)
    if isinstance(value, tuple) and value and isinstance(value[0], FileModel):
        return tuple(sorted(map(in_order, value), key=repr))
    return value
