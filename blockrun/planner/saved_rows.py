"""Tables of a saved plan, read row by row in a moment, for what needs no data frame: the one reader of them.

For commands that answer in the yard: they wait for nothing that plans.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from datetime import datetime
from typing import TYPE_CHECKING, Any, TypeVar

from blockrun.errors import BadInput, BadPlan
from blockrun.files.tables import Table, read_table
from blockrun.planner.cells import CellError, as_values
from blockrun.planner.columns import COLUMNS, MAY_BE_EMPTY
from blockrun.planner.folder import AGAIN

if TYPE_CHECKING:
    from pathlib import Path

    from _typeshed import DataclassInstance

Row = TypeVar("Row", bound="DataclassInstance")


@dataclass(frozen=True)
class PlannedBatch:
    """One batch of a plan; see the columns of its batches."""

    batch: int
    mixer: str
    mix: str
    start: datetime
    foam_at: datetime
    pour_to: datetime
    end: datetime
    bags: float
    cement_kg: float
    slurry_water_kg: float
    foam_kg: float
    agent_l: float
    yield_l: float
    poured_l: float


@dataclass(frozen=True)
class PlannedCubes:
    """Cubes of a batch that are crushed at one age; see the columns of its cubes."""

    batch: int
    cubes: int
    marked: str
    crush: datetime | None


def planned_batches(directory: Path) -> tuple[PlannedBatch, ...]:
    """All batches of a saved plan, in the order of its table; see `rows_of`."""
    return rows_of(directory, "batches", PlannedBatch)


def planned_cubes(directory: Path) -> tuple[PlannedCubes, ...]:
    """All test cubes of a saved plan, in the order of its table; see `rows_of`."""
    return rows_of(directory, "cubes", PlannedCubes)


def rows_of(directory: Path, name: str, kind: type[Row]) -> tuple[Row, ...]:
    """The rows of one table of a saved plan, in its order.

    Parameters
    ----------
    directory : of the plan.
    name : of the table.
    kind : a dataclass whose fields are named as columns of the table.

    Raises
    ------
    BadPlan : the table is not there, or holds what is not due there (with file, line and column).
    """
    make: Callable[..., Row] = kind
    try:
        table = saved_table(directory / f"{name}.csv", name)
        columns = (saved_column(table, one.name, COLUMNS[name][one.name]) for one in fields(kind))
        return tuple(make(*row) for row in zip(*columns, strict=True))
    except BadInput as fault:
        raise BadPlan.of(fault) from fault


def saved_table(path: Path, name: str) -> Table:
    """A table of a saved plan, no cell of it read yet.

    Raises
    ------
    BadInput : it is not there, has other columns than are due, or no rows, or one that lost its last cells.
    """
    table, due = read_table(path, may_be_empty=True), tuple(COLUMNS[name])
    if not table.rows and name not in MAY_BE_EMPTY:
        raise BadInput("has a header and no rows", AGAIN, file=path, line=1)
    if table.columns != due:
        fault = BadInput("these are not the columns of the table", f"Due are {', '.join(due)}.")
        raise table.place(fault, table.header)
    for row in table.short:
        lost = BadInput(f"the row ends after {len(row.cells)} cells, and {len(due)} are due, the empty ones too", AGAIN)
        raise table.place(lost, row, len(row.cells))
    return table


def saved_column(table: Table, column: str, kind: str) -> list[Any]:
    """Values of a column of a saved table, None where there is none.

    Raises
    ------
    BadInput : a cell is not of the kind that is due, with its place.
    """
    index = table.columns.index(column)
    cells = [row.cells[index] for row in table.rows]
    try:
        return as_values(column, kind, cells)
    except CellError as error:
        fault = BadInput(f"{cells[error.index] or 'nothing'} stands where {error}", AGAIN)
        raise table.place(fault, table.rows[error.index], column) from error
