"""The batches of a saved plan, read in a moment: no table is loaded whole, and nothing that plans."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.errors import BadInput, BadPlan
from blockrun.files.tables import Table, read_table
from blockrun.planner.folder import AGAIN
from blockrun.site.values import read_name, read_number, read_whole

if TYPE_CHECKING:
    from pathlib import Path

    from blockrun.files.grid import Row


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


def planned_batches(directory: Path) -> tuple[PlannedBatch, ...]:
    """All batches of a saved plan, in the order of its table.

    Raises
    ------
    BadPlan : the table is not there, or cannot be read.
    """
    try:
        table = read_table(directory / "batches.csv")
        return tuple(_batch(table, row) for row in table.rows)
    except BadInput as fault:
        raise BadPlan(fault.what, AGAIN, file=fault.file, line=fault.line, text=fault.text) from fault


def _batch(table: Table, row: Row) -> PlannedBatch:
    def number(column: str) -> float:
        return float(table.read(row, column, read_number))

    return PlannedBatch(
        table.read(row, "batch", read_whole),
        table.read(row, "mixer", read_name),
        table.read(row, "mix", read_name),
        table.read(row, "start", moment_saved),
        table.read(row, "foam_at", moment_saved),
        table.read(row, "pour_to", moment_saved),
        table.read(row, "end", moment_saved),
        number("bags"),
        number("cement_kg"),
        number("slurry_water_kg"),
        number("foam_kg"),
        number("agent_l"),
        number("yield_l"),
        number("poured_l"),
    )


def moment_saved(text: str) -> datetime:
    """A moment as the tables of a plan have it.

    Raises
    ------
    BadInput : anything else.
    """
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise BadInput(f"{text} is not a moment", AGAIN, value=text) from None
