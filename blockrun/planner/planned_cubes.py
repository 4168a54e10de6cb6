"""The test cubes of a saved plan that are crushed on a day, read in a moment."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput, BadPlan
from blockrun.files.tables import read_table
from blockrun.planner.folder import AGAIN
from blockrun.planner.planned_batches import moment_saved
from blockrun.site.values import read_name, read_whole

if TYPE_CHECKING:
    from pathlib import Path

_CRUSH: Final = "crush"


@dataclass(frozen=True)
class PlannedCubes:
    """Cubes of a batch that are crushed at one age; see the columns of its cubes."""

    batch: int
    cubes: int
    marked: str
    crush: date


def planned_cubes(directory: Path) -> tuple[PlannedCubes, ...]:
    """All cubes of a saved plan that have a day, in the order of its table; none where none are cast.

    Raises
    ------
    BadPlan : the table cannot be read.
    """
    path = directory / "cubes.csv"
    if not path.is_file():
        return ()
    try:
        table = read_table(path, may_be_empty=True)
        if _CRUSH not in table.columns:
            return ()
        return tuple(
            PlannedCubes(
                table.read(row, "batch", read_whole),
                table.read(row, "cubes", read_whole),
                table.read(row, "marked", read_name),
                table.read(row, _CRUSH, moment_saved).date(),
            )
            for row in table.rows
            if table.cell(row, _CRUSH)
        )
    except BadInput as fault:
        raise BadPlan(fault.what, AGAIN, file=fault.file, line=fault.line, text=fault.text) from fault
