"""Rows of a plan's tables in plain values: datetimes, which compare many times faster than a frame's own, and None."""

from __future__ import annotations

from collections import namedtuple
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd

Row = Any
"""A row of a table, a cell by its column's name; None where it is empty, but for text."""


def rows_of(frame: pd.DataFrame) -> list[Row]:
    """Rows of a table, in its order."""
    row = namedtuple("row", list(frame.columns))  # type: ignore[misc]
    return list(map(row, *(_cells(frame[name]) for name in frame.columns)))


def _cells(column: pd.Series[Any]) -> list[Any]:
    if column.dtype.kind == "M":
        return moments(column)
    if column.dtype.name == "Int64":
        column = column.astype(object).where(column.notna(), None)
    return column.tolist()


def moments(column: pd.Series[Any]) -> list[datetime]:
    """Times of a column, to the second; an empty one, where the column may have such, is None."""
    return list(column.to_numpy().astype("datetime64[s]").tolist())


def grouped(rows: Iterable[Row], key: Callable[[Row], Any]) -> dict[Any, list[Row]]:
    """Rows that are alike, by what they have in common, in the order of the first of each."""
    groups: dict[Any, list[Row]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    return groups
