"""Rows of cubes, written below those of a table in its own columns and units."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import timedelta
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.tables import read_table
from blockrun.files.text import read_bytes
from blockrun.planner.learned import CubeRow
from blockrun.units import digits, in_unit

NEW_TABLE: Final = ("mix", "batch", "tested", "age_d", "dry_density_kg_m3", "strength_mpa", "note")
"""Columns of a table that is made anew."""

_DENSITIES: Final = {
    f"{dry}_density_{name}": unit
    for dry in ("dry", "oven_dry")
    for name, unit in (("kg_m3", "kg/m3"), ("lb_ft3", "lb/ft3"))
}
_STRENGTHS: Final = {"strength_mpa": "MPa", "strength_n_mm2": "N/mm2", "strength_psi": "psi"}


def added(path: Path, rows: Sequence[CubeRow]) -> tuple[bytes, tuple[str, ...]]:
    """A table of cubes with further rows below, all else of it as it was; and the lines of these.

    Raises
    ------
    BadInput : it cannot be read, is a workbook, or has no column for an age.
    """
    table = read_table(path)
    if not table.separator:
        raise BadInput("is a workbook, to which nothing is added here", "Type the rows in by hand.", file=path)
    if not {"age_d", "age_days", "age_h"} & set(table.columns) and not {"made", "tested"} <= set(table.columns):
        raise BadInput("has no column for the age of a cube", "Add age_d, or type the rows in by hand.", file=path)
    old = read_bytes(path)
    end = "\r\n" if b"\r\n" in old else "\n"
    lines = _lines(rows, table.columns, table.separator)
    gap = "" if old.endswith(b"\n") else end
    return old + (gap + "".join(line + end for line in lines)).encode(), lines


def new_table(rows: Sequence[CubeRow]) -> tuple[bytes, tuple[str, ...]]:
    """A table of cubes, and its lines."""
    lines = (",".join(NEW_TABLE), *_lines(rows, NEW_TABLE, ","))
    return "".join(f"{line}\n" for line in lines).encode(), lines


def _lines(rows: Iterable[CubeRow], columns: Sequence[str], separator: str) -> tuple[str, ...]:
    written = io.StringIO()
    writer = csv.writer(written, delimiter=separator, lineterminator="\n")
    writer.writerows([_cells(row).get(column, "") for column in columns] for row in rows)
    return tuple(written.getvalue().splitlines())


def _cells(row: CubeRow) -> dict[str, str]:
    """What stands in each column that a table of cubes may have; others are left empty."""
    made = row.tested - timedelta(days=max(1, round(row.age_d)))
    return {
        "mix": row.mix,
        "batch": str(row.batch or ""),
        "note": f"marked {row.marked}" if row.marked else "",
        "tested": row.tested.isoformat(),
        "made": made.isoformat(),
        "age_d": digits(row.age_d),
        "age_days": digits(row.age_d),
        "age_h": digits(row.age_d * 24),
        **{name: digits(in_unit(row.dry_density_kg_m3, "density", unit)) for name, unit in _DENSITIES.items()},
        **{name: digits(in_unit(row.strength_mpa, "strength", unit)) for name, unit in _STRENGTHS.items()},
    }
