"""What ``plan.json`` says of a plan: all of it is the same on every run that makes the same plan."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Annotated, Final, Literal, Self, get_args

from pydantic import BaseModel, ConfigDict, Field, StrictBool, ValidationError, model_validator

from blockrun import __version__
from blockrun.errors import BadInput, BadPlan
from blockrun.files.text import read_text
from blockrun.planner.tables import STAGES, Stage

FORMAT: Final = 1
NEWER: Final = "Open it with that version or a later one, or make the plan again with this one."

Finite = Annotated[float, Field(allow_inf_nan=False)]
Reached = int | Finite | date
Input = Literal["site", "order"]


class SavedStage(BaseModel):
    """One stage as it is saved; the finish is a date."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    stage: Literal["block_days_late", "finish", "batches", "cement"]
    value: Reached
    bound: Reached
    proven: StrictBool

    @model_validator(mode="after")
    def _kinds(self) -> Self:
        kind = STAGES[self.stage]
        for number in (self.value, self.bound):
            if type(number) is not kind:
                raise ValueError(f"{self.stage} is a {kind.__name__}, and {number} is not")
        return self


class Facts(BaseModel):
    """The content of ``plan.json``.

    Attributes
    ----------
    format : version of the saved files.
    blockrun : version that made the plan.
    inputs : digests of site and order.
    files : where their copies lie, within the plan's directory.
    references : for each of them, the files it names and where their copies lie.
    begun : where what had happened is told, of a plan that was made anew; empty else.
    tables : digests of the tables.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    format: Literal[1]
    blockrun: str
    site: str
    order: str
    inputs: dict[Input, str]
    files: dict[Input, str]
    references: dict[Input, dict[str, str]]
    begun: str
    tables: dict[str, str]
    seed: int
    warnings: tuple[str, ...]
    totals: dict[str, int | Finite | None]
    stages: tuple[SavedStage, ...]

    @model_validator(mode="after")
    def _both(self) -> Self:
        for name in ("inputs", "files", "references"):
            for kind in get_args(Input):
                if kind not in getattr(self, name):
                    raise ValueError(f"{name} says nothing of the {kind}")
        return self

    @classmethod
    def checked(cls, **facts: object) -> Self:
        """Facts about to be saved.

        Raises
        ------
        BadPlan : one of them is not what may stand there, such as a number that is not finite.
        """
        try:
            return cls.model_validate(facts)
        except ValidationError as error:
            raise BadPlan(_first_fault(error)) from error

    @classmethod
    def read(cls, path: Path) -> Self:
        """Facts as they were saved.

        Raises
        ------
        BadPlan : the file is not one of ours, or was made by a later version, or something in it is not due there.
        """
        try:
            text = read_text(path)
            return cls.model_validate_json(text)
        except BadInput as fault:
            raise BadPlan.of(fault) from fault
        except ValidationError as error:
            newer = _newer(text)
            if newer:
                raise BadPlan(newer, NEWER, file=path) from error
            raise BadPlan(_first_fault(error), "Make the plan again.", file=path) from error

    def text(self) -> str:
        """As it is saved."""
        return self.model_dump_json(indent=2) + "\n"

    def as_stages(self) -> tuple[Stage, ...]:
        """Return the stages of the plan."""
        return tuple(Stage(saved.stage, saved.value, saved.bound, saved.proven) for saved in self.stages)


_NO_NUMBER: Final = {"int_type", "int_parsing", "float_type", "float_parsing"}
"""Kinds of fault that pydantic tells in words for programmers."""


def _newer(text: str) -> str | None:
    """Say that a later version saved the plan, if it did."""
    try:
        told = json.loads(text)
    except ValueError:
        return None
    saved = told.get("format") if isinstance(told, dict) else None
    if not isinstance(saved, int) or saved <= FORMAT:
        return None
    maker = str(told.get("blockrun", "a later version"))[:20]
    return f"this plan was saved by blockrun {maker}, in a form that {__version__} does not know yet"


def _first_fault(error: ValidationError) -> str:
    fault = error.errors(include_url=False)[0]
    where = ".".join(str(step) for step in fault["loc"] if step not in {"int", "float"})  # one of several kinds
    said = fault["msg"].removeprefix("Value error, ")
    said = said[:1].lower() + said[1:]
    if fault["type"] in _NO_NUMBER:
        said = "a number is due here"
    return f"{where}: {said}" if where else said
