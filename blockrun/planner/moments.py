"""Rows of a table with plain datetimes, which compare many times faster than the frame's own."""

from __future__ import annotations

from collections import namedtuple
from datetime import datetime
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd


def moments(column: pd.Series) -> list[datetime]:
    """Times of a column, to the second; an empty one, where the column may have such, is None."""
    return list(column.to_numpy().astype("datetime64[s]").tolist())


def rows_with_moments(frame: pd.DataFrame) -> list[Any]:
    """Rows of a table in its order, cells by the names of its columns; a time that is empty is None."""
    row = namedtuple("row", list(frame.columns))  # type: ignore[misc]
    columns = (
        moments(frame[name]) if frame[name].dtype.kind == "M" else frame[name].tolist() for name in frame.columns
    )
    return list(map(row, *columns))
