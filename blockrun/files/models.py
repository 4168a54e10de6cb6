"""A YAML file to a pydantic model, with every fault of the file at its place and in words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any, Final, TypeVar, get_args

from pydantic import BaseModel, Tag, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from blockrun.errors import BadInput
from blockrun.files.text import References, did_you_mean
from blockrun.files.unit_meant import length_unit_meant
from blockrun.files.yaml import Document
from blockrun.units import Unitless, check_comma

Model = TypeVar("Model", bound=BaseModel)
_PARTED: Final = re.compile(r"[+-]?[0-9]+,[0-9]+(?: ?[a-zA-Z%/0-9]+)?")
_NUMBER: Final = re.compile(r"[0-9]+(\.[0-9]+)?|[0-9]+/[1-9][0-9]*")


def read_model(model: type[Model], document: Document, references: References) -> Model:
    """The document as a model; fields that name another file find it through the references.

    Raises
    ------
    BadInput : with every fault of the document and of the files it names.
    """
    try:
        return model.model_validate(document.data, by_alias=True, by_name=False, context=references)
    except ValidationError as error:
        errors = [details for details in error.errors(include_url=False) if not _echo(details)]
        faults = [_fault(details, model, document) for details in errors]
        raise BadInput.of(faults) from None


def refuse_other(document: Document, due: str, other: str) -> None:
    """Refuse a file of another kind at one look; each kind starts with a key of its own name.

    Raises
    ------
    BadInput : it has the key of the other kind, and not that of the kind due.
    """
    if other in document.data and due not in document.data:
        what = f"this file is {_an(other)}, and {_an(due)} is due here"
        todo = "Swap the two files: the site comes first, then the order."
        raise document.place(BadInput(what, todo, name=other), [other], at_key=True)


def _an(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _echo(details: ErrorDetails) -> bool:
    """Whether this only says that a list is too short because its items were refused."""
    return details["type"] == "too_short" and bool(details["input"])


def _fault(details: ErrorDetails, model: type[BaseModel], document: Document) -> BadInput:
    steps, kind, context = details["loc"], details["type"], details.get("ctx", {})
    where = [step for step in steps if not _is_tag(step)]
    if isinstance(error := context.get("error"), BadInput):
        return _said_by_a_field(error, where, document)
    if "todo" in context:
        return document.place(BadInput(details["msg"], context["todo"], name=_last_key(where)), where)
    key = str(where[-1]) if where else ""
    if kind == "extra_forbidden":
        if cut := _number_cut(key, _given(document.data, where[:-1])):
            return document.place(cut, where, at_key=True)
        fault = BadInput(
            f"unknown key {key}",
            _key_meant(key, _model_at(model, steps[:-1]), _given(document.data, where[:-1])),
            name=key,
        )
        return document.place(fault, where, at_key=True)
    if kind == "missing":
        field = _field_at(model, steps)
        return document.place(BadInput(f"{key} is missing", f"Write {_form(key, field)}.", name=key), where)
    what, todo = _shape(kind, details["input"], _model_at(model, steps), key)
    return document.place(BadInput(f"{_last_key(where)}: {what}", todo, name=key), where)


def _number_cut(key: str, given: Mapping[str, Any]) -> BadInput | None:
    """What to say of ``10`` in ``{price: 6,10}``, where a comma ends a value; None of any other key."""
    keys = list(given)
    before = keys[keys.index(key) - 1] if key in keys[1:] and given[key] in (None, "") else ""
    number = f"{given.get(before)},{key}"
    if not _PARTED.fullmatch(number):
        return None
    try:
        check_comma(number)
    except BadInput as fault:
        fault.name, fault.what = before, f"{before}: {fault.what}"
        return fault
    return None


def _said_by_a_field(error: BadInput, where: Sequence[str | int], document: Document) -> BadInput:
    """Place what a field or a model said of itself: a model names the key it means, a field does not."""
    for fault in error.all():
        if fault.file is not None:
            continue
        if isinstance(fault, Unitless) and fault.dimension == "length":
            _propose_unit(fault, _last_key(where), document)
        if fault.name is None:
            fault.name = _last_key(where)
            fault.what = f"{fault.name}: {fault.what}"
            document.place(fault, where)
        else:
            document.place(fault, [*where, *fault.within, *([fault.name] if fault.name else [])])
    return error


def _propose_unit(fault: Unitless, key: str, document: Document) -> None:
    """Answer a length that has no unit in one that the file uses."""
    bare = str(fault.value).strip()
    unit = length_unit_meant(float(Fraction(bare)), key, document.data) if _NUMBER.fullmatch(bare) else None
    if unit:
        fault.todo = f"{bare} of what? Write {bare} {unit}."


def _shape(kind: str, given: object, model: type[BaseModel] | None, key: str) -> tuple[str, str]:
    """What to say when a list, a mapping or a single value stands where another of them is due."""
    if kind == "too_short":
        return "is an empty list", "Write at least one."
    if given is None:
        return "is empty", "Write what belongs here, or take the line out."
    found = "a mapping" if isinstance(given, dict) else "a list" if isinstance(given, list) else "a single value"
    if kind == "model_type" and model:
        return f"is {found}, and a mapping is due", f"Write its keys: {', '.join(_keys(model))}."
    return f"is {found}, and a list is due", f"Write {key}: [...] or a line starting with - for each."


def _last_key(where: Sequence[str | int]) -> str:
    return next((step for step in reversed(where) if isinstance(step, str)), "file")


def _field_at(model: type[BaseModel], where: Sequence[str | int]) -> FieldInfo | None:
    parent = _model_at(model, where[:-1])
    fields = parent.model_fields.values() if parent else ()
    return next((field for field in fields if field.alias == where[-1]), None)


def _model_at(model: type[BaseModel] | None, where: Sequence[str | int]) -> type[BaseModel] | None:
    """The model that reads the mapping at a path, in which a tag names one of several models."""
    annotation: Any = model
    for step in where:
        if model is None or isinstance(step, int):
            continue
        if _is_tag(step):
            model = _model_of_tag(annotation, step)
            continue
        field = next((field for field in model.model_fields.values() if field.alias == step), None)
        annotation = field.annotation if field else None
        model = _model_in(annotation)
    return model


def _is_tag(step: str | int) -> bool:
    """Whether a step of a path names one of the models that may stand there: ``<wall>``, say; no key looks so."""
    return isinstance(step, str) and step.startswith("<")


def _model_of_tag(annotation: Any, tag: str) -> type[BaseModel] | None:
    inner = get_args(annotation)
    if any(isinstance(mark, Tag) and mark.tag == tag for mark in inner[1:]):
        return _model_in(inner[0])
    return next((found for one in inner if (found := _model_of_tag(one, tag))), None)


def _model_in(annotation: Any) -> type[BaseModel] | None:
    """The first model within an annotation such as ``tuple[Mixer, ...]``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for inner in get_args(annotation) if (found := _model_in(inner))), None)


def _keys(model: type[BaseModel] | None) -> list[str]:
    return [field.alias or name for name, field in model.model_fields.items()] if model else []


def _key_meant(key: str, model: type[BaseModel] | None, given: Iterable[str]) -> str:
    """The key that is meant: rather one that is missing, so that ``diameter`` is no ``eye_diameter``."""
    fields = model.model_fields.items() if model else ()
    missing = {field.alias or name for name, field in fields if field.is_required()}.difference(given)
    meant = did_you_mean(key, missing)
    return meant if meant.endswith("?") else did_you_mean(key, _keys(model))


def _given(data: Any, where: Sequence[str | int]) -> Mapping[str, Any]:
    """The mapping at a path, as it is written."""
    for step in where:
        data = data[step]
    return dict(data)


def _form(key: str, field: FieldInfo | None) -> str:
    """How a missing key may be written: with the example of its field, or with the keys of its mapping."""
    written = [meta.example for meta in field.metadata if hasattr(meta, "example")] if field else []
    example = next(iter([*(field.examples or []), *written]), None) if field else None
    if example:
        return f"a line such as {key}: {example}"
    model = _model_in(field.annotation) if field else None
    return f"{key} with its keys {', '.join(_keys(model))}" if model else f"a line {key}: ..."
