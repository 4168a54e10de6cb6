"""The tables of a plan, exactly as they are saved, and the stages they are judged by.

Columns are those of the saved CSV files. Times are ``datetime64[s]``, local to the minute, ``NaT``
where empty; numbers that may be empty are ``Int64``; text is ``str``, empty where there is none.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Final

import pandas as pd

TIME: Final = "datetime64[s]"

CASTS: Final = {
    "cast": "int64",
    "part": "str",
    "course": "Int64",
    "mark": "str",
    "mix": "str",
    "spare": "bool",
    "mould": "str",
    "base": "str",
    "turn": "int64",
    "cavity": "int64",
    "batch": "int64",
    "poured": TIME,
    "sides_off": TIME,
    "strip": TIME,
    "rack": "str",
    "rack_from": TIME,
    "rack_to": TIME,
    "ready": TIME,
    "needed": TIME,
}
BATCHES: Final = {
    "batch": "int64",
    "mixer": "str",
    "mix": "str",
    "start": TIME,
    "foam_at": TIME,
    "pour_from": TIME,
    "pour_to": TIME,
    "end": TIME,
    "bags": "float64",
    "cement_kg": "float64",
    "slurry_water_kg": "float64",
    "foam_l": "float64",
    "foam_kg": "float64",
    "agent_l": "float64",
    "yield_l": "float64",
    "poured_l": "float64",
}
TASKS: Final = {
    "start": TIME,
    "end": TIME,
    "task": "str",
    "people": "int64",
    "mould": "str",
    "base": "str",
    "batch": "Int64",
    "blocks": "Int64",
}
MATERIALS: Final = {
    "day": TIME,
    "cement_used_kg": "float64",
    "water_used_kg": "float64",
    "agent_used_l": "float64",
    "cement_delivered_kg": "float64",
    "agent_delivered_l": "float64",
    "cement_left_kg": "float64",
    "agent_left_l": "float64",
}
SAWING: Final = {
    "mould": "str",
    "turn": "int64",
    "cavity": "int64",
    "from_left_mm": "float64",
    "from_bottom_mm": "float64",
    "length_mm": "float64",
    "height_mm": "float64",
}
CUBES: Final = {
    "batch": "int64",
    "cubes": "int64",
    "volume_l": "float64",
    "set": "int64",
    "marked": "str",
    "crush": TIME,
}
STAGES: Final[Mapping[str, type]] = {"block_days_late": int, "finish": date, "batches": int, "cement": float}
"""What a plan is judged by, one after the other, and what each is told in: cement in kilograms."""

COLUMNS: Final = {
    "casts": CASTS,
    "batches": BATCHES,
    "tasks": TASKS,
    "materials": MATERIALS,
    "sawing": SAWING,
    "cubes": CUBES,
}
MAY_BE_EMPTY: Final = frozenset({"sawing", "cubes"})
"""Tables of plans that may have no row."""


@dataclass(frozen=True)
class PlanTables:
    """The tables of one plan, each with the columns and types above.

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
