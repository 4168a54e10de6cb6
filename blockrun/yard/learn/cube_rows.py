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
from blockrun.site.cubes import AGES, COLUMNS, DENSITIES, STRENGTHS, SUMMED, Cubes
from blockrun.units import MINUTES_A_DAY, digits, in_unit

NEW_TABLE: Final = ("mix", "batch", "tested", "age_d", SUMMED, "dry_density_kg_m3", "strength_mpa", "note")
"""Columns of a table that is made anew."""


def not_among(rows: Iterable[CubeRow], known: Cubes | None) -> tuple[CubeRow, ...]:
    """Those rows that are no cube of a table."""
    return tuple(row for row in rows if known is None or not known.has(row.cube))


def added(path: Path, rows: Sequence[CubeRow]) -> tuple[bytes, tuple[str, ...]]:
    """A table of cubes with further rows below, all else of it as it was; and the lines of these.

    Raises
    ------
    BadInput : it cannot be read, is a workbook, or has no column for an age: days between two dates are whole ones,
        and both tell a cube for younger than it is reckoned where the yard was warmer than 20 degC.
    """
    table = read_table(path, COLUMNS)
    if not table.separator:
        raise BadInput("is a workbook, to which nothing is added here", "Type the rows in by hand.", file=path)
    if SUMMED not in table.columns:
        _check_room(path, table.columns, rows)
    old = read_bytes(path)
    end = "\r\n" if b"\r\n" in old else "\n"
    lines = _lines(rows, table.columns, table.separator)
    gap = "" if old.endswith(b"\n") else end
    return old + (gap + "".join(line + end for line in lines)).encode(), lines


def _check_room(path: Path, columns: Sequence[str], rows: Sequence[CubeRow]) -> None:
    """Refuse a table without hours at 20 degC that would tell another age of some rows."""
    if AGES.keys().isdisjoint(columns):
        dated = {"made", "tested"} <= set(columns)
        odd = next((row for row in rows if not dated or row.age_d % 1), None)
        if odd is not None:
            what = f"has no column for the age of a cube {digits(odd.age_d)} d old"
            raise BadInput(what, "Add age_d, or type the rows in by hand.", file=path)
    warm = next((row for row in rows if row.equivalent_age_h > 24 * row.age_d), None)
    if warm is not None:
        had = f"a cube {digits(warm.age_d)} d old had {_figures(warm.equivalent_age_h)} h"
        todo = f"Add {SUMMED}, or type the rows in by hand."
        raise BadInput(f"has no column for hours at 20 degC: {had}", todo, file=path)


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
        SUMMED: _figures(row.equivalent_age_h),
        **{name: _figures(in_unit(row.age_d * MINUTES_A_DAY, "time", unit)) for name, unit in AGES.items()},
        **{name: _figures(in_unit(row.dry_density_kg_m3, "density", unit)) for name, unit in DENSITIES.items()},
        **{name: _figures(in_unit(row.strength_mpa, "strength", unit)) for name, unit in STRENGTHS.items()},
    }


def _figures(value: float) -> str:
    """A number to four figures, however small: cut at some decimal it would not be known again."""
    return f"{Decimal(f'{value:.4g}'):f}"
