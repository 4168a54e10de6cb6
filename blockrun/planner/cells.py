"""Cells of the saved tables: each column's values as plain text, and text back to values."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from functools import cache
from typing import Any, Final

import numpy as np
import pandas as pd

from blockrun.planner.tables import TIME

DATES: Final = frozenset({"needed", "day", "crush"})
"""Columns of times that are whole days."""

MAY_BE_EMPTY: Final = frozenset({"needed", "sides_off", "crush"})
"""Columns of times that may have none."""


class CellError(ValueError):
    """A cell that is not what its column holds; says what is due instead, and where in the column it stands."""

    def __init__(self, said: str, index: int = 0) -> None:
        super().__init__(said)
        self.index = index


def as_text(column: pd.Series[Any]) -> list[str]:
    """Cells of a column, as they are saved.

    Parameters
    ----------
    column : named and typed as in :mod:`blockrun.planner.tables`.

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


def as_values(name: str, kind: str, cells: list[str]) -> list[Any]:
    """Values of a column's cells.

    Parameters
    ----------
    name, kind : the column and its type.
    cells : as :func:`as_text` writes them.

    Raises
    ------
    CellError : for the first wrong cell.
    """
    read = cache(_reader(name, kind))  # times and names come again and again
    found = []
    for index, cell in enumerate(cells):
        try:
            found.append(read(cell))
        except CellError as error:
            raise CellError(str(error), index) from None
        except ValueError as error:
            raise CellError(f"a real one is due: {error}", index) from None
    return found


def _reader(name: str, kind: str) -> Callable[[str], Any]:
    if kind == TIME:
        read: Callable[[str], Any] = _day if name in DATES else _minute
        return _or_empty(read, pd.NaT) if name in MAY_BE_EMPTY else read
    readers: dict[str, Callable[[str], Any]] = {
        "int64": _whole,
        "Int64": _or_empty(_whole, pd.NA),
        "float64": _number,
        "bool": _flag,
        "str": str,
    }
    return readers[kind]


def _or_empty(read: Callable[[str], Any], nothing: Any) -> Callable[[str], Any]:
    return lambda cell: read(cell) if cell else nothing


def _matching(cell: str, pattern: str, due: str) -> str:
    if not re.fullmatch(pattern, cell, re.ASCII):
        raise CellError(f"{due} is due")
    return cell


def _whole(cell: str) -> int:
    return int(_matching(cell, r"-?\d{1,15}", "a whole number"))


def _number(cell: str) -> float:
    return float(_matching(cell, r"-?\d+(\.\d+)?", "a plain decimal number"))


def _flag(cell: str) -> bool:
    return _matching(cell, "true|false", "true or false") == "true"


def _day(cell: str) -> date:
    return datetime.fromisoformat(_matching(cell, r"\d{4}-\d\d-\d\d", "a date such as 2027-04-05"))


def _minute(cell: str) -> datetime:
    return datetime.fromisoformat(_matching(cell, r"\d{4}-\d\d-\d\dT\d\d:\d\d", "a time such as 2027-04-05T09:10"))
