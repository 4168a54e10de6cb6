"""The tables of a plan, as in :mod:`blockrun.planner.columns`, and the stages they are judged by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Final

import pandas as pd

from blockrun.planner.columns import COLUMNS

STAGES: Final[Mapping[str, type]] = {"block_days_late": int, "finish": date, "batches": int, "cement": float}
"""What a plan is judged by, one after the other, and what each is told in: cement in kilograms."""


@dataclass(frozen=True)
class PlanTables:
    """The tables of one plan, each with its columns and types.

    ``sawing`` says how blocks lie in slabs, ``cubes`` which batches give sets of test cubes; both may be empty.
    """

    casts: pd.DataFrame
    batches: pd.DataFrame
    tasks: pd.DataFrame
    materials: pd.DataFrame
    sawing: pd.DataFrame = field(default_factory=lambda: table("sawing", []))
    cubes: pd.DataFrame = field(default_factory=lambda: table("cubes", []))


@dataclass(frozen=True)
class Stage:
    """One of ``STAGES``: what it reached, the best possible, and whether the two are proved equal.

    ``value`` and ``bound`` are whole block-days, a date, whole batches, or kilograms of cement.
    """

    stage: str
    value: int | float | date
    bound: int | float | date
    proven: bool


def table(name: str, rows: list[dict[str, object]]) -> pd.DataFrame:
    """Rows as a data frame with the columns and types of the named table, in the order given."""
    types = COLUMNS[name]
    frame = pd.DataFrame(rows, columns=list(types))
    return frame.astype(types)
