"""The sheets of a workbook: the tables of a plan, and its courses, column by column."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal

import pandas as pd

from blockrun.planner.columns import DATES, MAY_BE_EMPTY, TIME
from blockrun.planner.supplies import materials_of
from blockrun.planner.uses import AGENT, uses_of
from blockrun.units import in_unit

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan

Kind = Literal["text", "number", "measured", "little", "flag", "day", "moment"]
"""What stands in a column; a number is a count or the number of something, what is measured has decimals, of a little
of something one more."""

NAMES: Final = {
    "casts": "Blocks",
    "batches": "Batches",
    "tasks": "Work",
    "materials": "Materials",
    "sawing": "Sawing",
    "cubes": "Test cubes",
}
"""What the tables of a plan are called in a workbook."""

COURSES: Final = "Courses"

LITTLE: Final = "agent_"
"""Beginning of the names of columns of which a batch takes but a little."""

IN_US: Final = {"kg": ("mass", "lb"), "l": ("volume", "gal"), "mm": ("length", "in")}
"""Ends of the names of columns, and what stands in their place where a site prints in US units."""


@dataclass(frozen=True)
class Column:
    """A column: its name at the head, what stands in it, and a value a row (``None`` for none)."""

    name: str
    kind: Kind
    values: Sequence[Any]


@dataclass(frozen=True)
class Sheet:
    """A sheet of one table: columns of the same length."""

    name: str
    columns: tuple[Column, ...]


def sheets_of(plan: Plan, apart: Collection[int] = ()) -> Iterator[Sheet]:
    """All tables of a plan, those left out that may be empty and are.

    Parameters
    ----------
    apart : batches outside their cards; where there are some, a column of the blocks marks those of them.

    Returns
    -------
    Columns named as in the saved tables; what is measured is in the units of the site, and the name says so. Those of
    materials are followed by two on the foam that is weighed and thrown away, which the saved table leaves out.
    """
    yield Sheet(COURSES, tuple(_column(series, plan.site.units) for _, series in courses_of(plan).items()))
    for table, name in NAMES.items():
        frame = getattr(plan.tables, table) if table != "materials" else _with_weighed(plan)
        if table == "casts" and apart:
            frame = frame.assign(set_apart=frame["batch"].isin(apart))
        if not (frame.empty and table in MAY_BE_EMPTY):
            yield Sheet(name, tuple(_column(series, plan.site.units) for _, series in frame.items()))


def _with_weighed(plan: Plan) -> pd.DataFrame:
    """The materials by day; at their end the agent of foam that is weighed, and what is left with it."""
    table = plan.tables.materials
    agent = next(one for one in materials_of(plan.site, uses_of(plan), plan.begun) if one.name == AGENT)
    days = [day.date() for day in table["day"]]
    return table.assign(
        agent_to_weigh_foam_l=[agent.weighed.get(day, 0.0) for day in days],
        agent_left_after_weighing_l=[agent.left_on(day) for day in days],
    )


def courses_of(plan: Plan) -> pd.DataFrame:
    """The courses of an order, spares aside.

    Returns
    -------
    A row a course, in the order in which they are ready: part, course, blocks, days on which the first and the last of
    them are ready, the day on which the first is needed, and days that any is late.
    """
    casts = plan.tables.casts[~plan.tables.casts["spare"]]
    late = (casts["ready"].dt.normalize() - casts["needed"]).dt.days.clip(lower=0).fillna(0).astype("int64")
    courses = casts.assign(late=late).groupby(["part", "course"], dropna=False, sort=True)
    told = courses.agg(
        blocks=("cast", "size"),
        first_ready=("ready", "min"),
        last_ready=("ready", "max"),
        needed=("needed", "min"),
        days_late=("late", "max"),
    )
    return told.reset_index().sort_values(["last_ready", "part", "course"], kind="stable", ignore_index=True)


def _column(series: pd.Series[Any], units: str) -> Column:
    name, kind = str(series.name), _kind(series)
    values: list[Any] = [
        None if missing else value for value, missing in zip(series.tolist(), series.isna(), strict=True)
    ]
    stem, _, end = name.rpartition("_")
    if units != "US" or kind not in ("measured", "little") or end not in IN_US:
        return Column(name, kind, values)
    dimension, unit = IN_US[end]
    return Column(f"{stem}_{unit}", kind, [in_unit(value, dimension, unit) for value in values])


def _kind(series: pd.Series[Any]) -> Kind:
    """What the type of a column of ours stands for."""
    if str(series.dtype) == TIME:
        return "day" if series.name in DATES else "moment"
    if str(series.name).startswith(LITTLE):
        return "little"
    kinds: dict[str, Kind] = {"int64": "number", "Int64": "number", "float64": "measured", "bool": "flag"}
    return kinds.get(str(series.dtype), "text")
