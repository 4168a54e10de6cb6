"""The first gate: every cell of a plan's tables can be read. Nothing else is judged before that."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from typing import Any, Final

import numpy as np
import pandas as pd
from pandas.api import types

from blockrun.planner.audit.places import FIRST_ROW
from blockrun.planner.audit.records import is_date, times_of
from blockrun.planner.audit.working import DAY
from blockrun.planner.columns import COLUMNS, TIME
from blockrun.planner.tables import PlanTables

LONGEST_DAYS: Final = 5_500
"""A plan lasts at most some four years of pouring and the ten that a site may let blocks wait; a slip of the pen
cannot send a sweep to the end of time."""

FARTHEST_NEED_DAYS: Final = 73_500
"""Dates of a site or an order lie between 2000 and 2199."""

LARGEST: Final = 1e10
"""More than the heaviest stock a site may have: a million bags on hand and as many delivered, of 2,000 kg each."""

_MAY_BE_EMPTY: Final = {
    ("casts", "course"),
    ("casts", "sides_off"),
    ("casts", "needed"),
    ("tasks", "batch"),
    ("tasks", "blocks"),
    ("cubes", "crush"),
}


def unreadable_cells(tables: PlanTables, start: date) -> Iterator[tuple[str, str]]:
    """Find columns that are missing, doubled or of another kind, and cells that are empty or out of all bounds.

    Parameters
    ----------
    tables : as planned or as loaded; trusted in nothing.
    start : first day of the calendar; no plan has a time before it.
    """
    for table, columns in COLUMNS.items():
        frame: pd.DataFrame = getattr(tables, table)
        names = list(frame.columns)
        for column, kind in columns.items():
            if names.count(column) != 1:
                yield f"{table}.csv", f"{table}.csv must have one column {column}"
            elif len(frame) and not _IS_KIND[kind](frame[column]):
                yield f"{table}.csv {column}", f"{column} of {table}.csv holds something that is not {_WORDS[kind]}"
            else:
                for wrong, what in _wrong_cells(table, column, frame[column], start):
                    for row in np.flatnonzero(wrong) + FIRST_ROW:
                        yield f"{table}.csv row {row}", f"{column} in {table}.csv row {row} {what}"


def _wrong_cells(table: str, column: str, cells: pd.Series[Any], start: date) -> Iterator[tuple[Any, str]]:
    """Masks over the cells of a column, each with what is wrong where it is true."""
    kind = COLUMNS[table][column]
    filled = cells.notna().to_numpy(dtype=bool)
    if (table, column) not in _MAY_BE_EMPTY:
        yield ~filled, "is empty"
    if kind == TIME:
        unit = "day" if is_date(table, column) else "minute"
        yield filled & ~_whole(cells, unit), f"is not a whole {unit}"
        counts = times_of(table, column, cells, start)
        earliest, latest = 0, LONGEST_DAYS * (1 if unit == "day" else DAY)
        if column == "needed":
            earliest, latest = -FARTHEST_NEED_DAYS, FARTHEST_NEED_DAYS
        outside = (counts < earliest) | (counts > latest)
        yield filled & outside, f"lies before the first day, {start}, or years after it"
    elif kind in ("int64", "Int64", "float64"):
        small = np.abs(cells.fillna(0).to_numpy(dtype=np.float64)) <= LARGEST
        yield filled & ~small, f"is not a number up to {LARGEST:,.0f}"


def _whole(cells: pd.Series[Any], unit: str) -> Any:
    """Cells that are midnights, or whole minutes."""
    return (cells.dt.floor("D" if unit == "day" else "min") == cells).to_numpy(dtype=bool)


def _is_text(cells: pd.Series[Any]) -> bool:
    return isinstance(cells.dtype, pd.StringDtype) or all(isinstance(cell, str) for cell in cells[cells.notna()])


def _is_time(cells: pd.Series[Any]) -> bool:
    return types.is_datetime64_dtype(cells.dtype)


def _is_number(cells: pd.Series[Any]) -> bool:
    return types.is_numeric_dtype(cells.dtype) and not types.is_bool_dtype(cells.dtype)


def _is_whole(cells: pd.Series[Any]) -> bool:
    return types.is_integer_dtype(cells.dtype)


def _is_yes_or_no(cells: pd.Series[Any]) -> bool:
    return types.is_bool_dtype(cells.dtype)


_IS_KIND: Final[dict[str, Callable[[pd.Series[Any]], bool]]] = {
    TIME: _is_time,
    "str": _is_text,
    "bool": _is_yes_or_no,
    "int64": _is_whole,
    "Int64": _is_whole,
    "float64": _is_number,
}
_WORDS: Final = {
    TIME: "a time",
    "str": "text",
    "bool": "true or false",
    "int64": "a whole number",
    "Int64": "a whole number",
    "float64": "a number",
}
