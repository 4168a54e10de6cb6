"""The rows of a plan's tables as plain records, times as whole minutes and dates as whole days.

Fields are the columns of :mod:`blockrun.planner.tables`, in their order. Minutes and days are counted from
midnight at the start of ``calendar.start``; an empty cell is None.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any, Literal, NamedTuple

import numpy as np
import pandas as pd

from blockrun.planner.columns import COLUMNS, TIME
from blockrun.planner.tables import PlanTables


class Cast(NamedTuple):
    """One block."""

    cast: int
    part: str
    course: int | None
    mark: str
    mix: str
    spare: bool
    mould: str
    base: str
    turn: int
    cavity: int
    batch: int
    poured: int
    sides_off: int | None
    strip: int
    rack: str
    rack_from: int
    rack_to: int
    ready: int
    needed: int | None


class Batch(NamedTuple):
    """One load of a mixer, as written."""

    batch: int
    mixer: str
    mix: str
    start: int
    foam_at: int
    pour_from: int
    pour_to: int
    end: int
    bags: float
    cement_kg: float
    slurry_water_kg: float
    foam_l: float
    foam_kg: float
    agent_l: float
    yield_l: float
    poured_l: float


class Task(NamedTuple):
    """One thing the crew does, as written."""

    start: int
    end: int
    task: str
    people: int
    mould: str
    base: str
    batch: int | None
    blocks: int | None


class Material(NamedTuple):
    """Cement, water and agent of one day."""

    day: int
    cement_used_kg: float
    water_used_kg: float
    agent_used_l: float
    cement_delivered_kg: float
    agent_delivered_l: float
    cement_left_kg: float
    agent_left_l: float


class SawnOut(NamedTuple):
    """How one block lies in its slab."""

    mould: str
    turn: int
    cavity: int
    from_left_mm: float
    from_bottom_mm: float
    length_mm: float
    height_mm: float


class CubeSet(NamedTuple):
    """Cubes of a set that a batch gives, those for one age."""

    batch: int
    cubes: int
    volume_l: float
    set: int
    marked: str
    crush: int | None


class Records(NamedTuple):
    """All rows of a plan."""

    casts: tuple[Cast, ...]
    batches: tuple[Batch, ...]
    tasks: tuple[Task, ...]
    materials: tuple[Material, ...]
    sawing: tuple[SawnOut, ...]
    cubes: tuple[CubeSet, ...]


def records_of(tables: PlanTables, start: date) -> Records:
    """Read the tables of a plan in which no cell is unreadable; ``start`` is day 0."""
    return Records(
        tuple(Cast(*row) for row in _rows("casts", tables.casts, start)),
        tuple(Batch(*row) for row in _rows("batches", tables.batches, start)),
        tuple(Task(*row) for row in _rows("tasks", tables.tasks, start)),
        tuple(Material(*row) for row in _rows("materials", tables.materials, start)),
        tuple(SawnOut(*row) for row in _rows("sawing", tables.sawing, start)),
        tuple(CubeSet(*row) for row in _rows("cubes", tables.cubes, start)),
    )


def is_date(table: str, column: str) -> bool:
    """Tell whether a column of times holds dates, which are counted in days."""
    return (table, column) in (("casts", "needed"), ("materials", "day"), ("cubes", "crush"))


def times_of(table: str, column: str, cells: pd.Series[Any], start: date) -> np.ndarray[Any, np.dtype[np.int64]]:
    """Whole minutes, or days in a column of dates, since midnight of the first day; any number where empty."""
    unit: Literal["D", "m"] = "D" if is_date(table, column) else "m"
    return cells.to_numpy(dtype=f"datetime64[{unit}]").astype(np.int64) - np.datetime64(start, unit).astype(np.int64)


def _rows(table: str, frame: pd.DataFrame, start: date) -> Iterator[tuple[Any, ...]]:
    columns = [_values(table, column, kind, frame[column], start) for column, kind in COLUMNS[table].items()]
    return zip(*columns, strict=True)


def _values(table: str, column: str, kind: str, cells: pd.Series[Any], start: date) -> list[Any]:
    """Cells of one column as plain values, None where empty."""
    if kind == TIME:
        values = times_of(table, column, cells, start).tolist()
    elif kind in ("int64", "Int64", "float64"):
        values = cells.fillna(0).to_numpy(dtype=np.float64 if kind == "float64" else np.int64).tolist()
    else:
        return list(cells)
    filled = cells.notna().tolist()
    return values if all(filled) else [value if there else None for value, there in zip(values, filled, strict=True)]
