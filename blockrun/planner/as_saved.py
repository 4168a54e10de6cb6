"""Cells of a plan's tables, as they are saved: each column's values as plain text."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from blockrun.planner.cells import CellError
from blockrun.planner.columns import DATES, TIME


def as_text(column: pd.Series[Any]) -> list[str]:
    """Cells of a column, as they are saved.

    Parameters
    ----------
    column : named and typed as in :mod:`blockrun.planner.columns`.

    Returns
    -------
    Plain decimals without an exponent that read back to the same number, times to the minute, ``true`` and
    ``false``; empty where there is no value.

    Raises
    ------
    CellError : a number that is not finite, or a time with seconds.
    """
    kind = str(column.dtype)
    if kind == TIME:
        return _times_said(column)
    if kind == "float64":
        return [_decimal(value, str(column.name)) for value in column.tolist()]
    if kind == "bool":
        return ["true" if value else "false" for value in column.tolist()]
    return ["" if value is pd.NA else str(value) for value in column.tolist()]


def _times_said(column: pd.Series[Any]) -> list[str]:
    values = column.to_numpy("datetime64[s]")
    unit = "D" if column.name in DATES else "m"
    cut = values.astype(f"datetime64[{unit}]")
    if not np.array_equal(cut[~np.isnat(cut)], values[~np.isnat(values)]):
        raise CellError(f"a value of {column.name} is not a whole {'day' if unit == 'D' else 'minute'}")
    return ["" if text == "NaT" else str(text) for text in np.datetime_as_string(cut)]


def _decimal(value: float, name: str) -> str:
    if not np.isfinite(value):
        raise CellError(f"a value of {name} is {value}")
    return np.format_float_positional(value, trim="-")
