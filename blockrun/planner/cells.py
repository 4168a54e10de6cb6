"""Cells of the saved tables, read back to values."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime
from functools import cache
from typing import Any

from blockrun.planner.columns import DATES, TIME, TIMES_THAT_MAY_BE_EMPTY


class CellError(ValueError):
    """A cell that is not what its column holds; says what is due instead, and where in the column it stands."""

    def __init__(self, said: str, index: int = 0) -> None:
        super().__init__(said)
        self.index = index


def as_values(name: str, kind: str, cells: list[str]) -> list[Any]:
    """Values of a column's cells, None where there is none.

    Parameters
    ----------
    cells : as :func:`blockrun.planner.as_saved.as_text` writes them.

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
        return _or_empty(read) if name in TIMES_THAT_MAY_BE_EMPTY else read
    readers: dict[str, Callable[[str], Any]] = {
        "int64": _whole,
        "Int64": _or_empty(_whole),
        "float64": _number,
        "bool": _flag,
        "str": str,
    }
    return readers[kind]


def _or_empty(read: Callable[[str], Any]) -> Callable[[str], Any]:
    return lambda cell: read(cell) if cell else None


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


def _day(cell: str) -> datetime:
    return datetime.fromisoformat(_matching(cell, r"\d{4}-\d\d-\d\d", "a date such as 2027-04-05"))


def _minute(cell: str) -> datetime:
    return datetime.fromisoformat(_matching(cell, r"\d{4}-\d\d-\d\dT\d\d:\d\d", "a time such as 2027-04-05T09:10"))
