"""Rows of cubes, written below those of a table in its own columns and units."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.tables import read_table
from blockrun.files.text import read_bytes
from blockrun.planner.learned import CubeRow
from blockrun.site.cubes import AGES, COLUMNS, DENSITIES, STRENGTHS, Cube, Cubes
from blockrun.units import digits, in_unit

NEW_TABLE: Final = ("mix", "batch", "tested", "age_d", "dry_density_kg_m3", "strength_mpa", "note")
"""Columns of a table that is made anew."""

SAME: Final = 0.005
"""Share by which strength, age and density of two rows differ at the most that are one cube, typed in twice."""


def not_among(rows: Iterable[CubeRow], known: Cubes | None) -> tuple[CubeRow, ...]:
    """Those rows that are no cube of a table."""
    return tuple(row for row in rows if not any(_same(row, cube) for cube in (known.tests if known else ())))


def _same(row: CubeRow, cube: Cube) -> bool:
    mine = (row.dry_density_kg_m3, row.strength_mpa, row.age_d * 24)
    theirs = (cube.dry_density_kg_m3, cube.strength_mpa, cube.age_h or cube.equivalent_age_h or 0.0)
    alike = all(abs(one - other) <= SAME * other for one, other in zip(mine, theirs, strict=True))
    return alike and cube.mix in ("", row.mix)


def added(path: Path, rows: Sequence[CubeRow]) -> tuple[bytes, tuple[str, ...]]:
    """A table of cubes with further rows below, all else of it as it was; and the lines of these.

    Raises
    ------
    BadInput : it cannot be read, is a workbook, or has no column for an age: days between two dates are whole ones.
    """
    table = read_table(path, COLUMNS)
    if not table.separator:
        raise BadInput("is a workbook, to which nothing is added here", "Type the rows in by hand.", file=path)
    if AGES.keys().isdisjoint(table.columns):
        dated = {"made", "tested"} <= set(table.columns)
        odd = next((row for row in rows if not dated or row.age_d % 1), None)
        if odd is not None:
            what = f"has no column for the age of a cube {digits(odd.age_d)} d old"
            raise BadInput(what, "Add age_d, or type the rows in by hand.", file=path)
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
        **{name: _figures(in_unit(row.age_d * 1440, "time", unit)) for name, unit in AGES.items()},
        **{name: _figures(in_unit(row.dry_density_kg_m3, "density", unit)) for name, unit in DENSITIES.items()},
        **{name: _figures(in_unit(row.strength_mpa, "strength", unit)) for name, unit in STRENGTHS.items()},
    }


def _figures(value: float) -> str:
    """A number to four figures, however small: cut at some decimal it would not be known again."""
    return f"{Decimal(f'{value:.4g}'):f}"
