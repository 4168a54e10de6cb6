"""Test cubes of the yard: what was crushed, how heavy it was, how old, and what it bore."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Annotated, Final

from pydantic import ValidationInfo

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.tables import Table, read_table
from blockrun.files.text import References
from blockrun.site.values import read_day, read_number
from blockrun.site.written import Named

DENSITIES: Final = {
    f"{dry}_density_{unit}": written
    for dry in ("dry", "oven_dry")
    for unit, written in (("kg_m3", "kg/m3"), ("lb_ft3", "lb/ft3"))
}
STRENGTHS: Final = {"strength_mpa": "MPa", "strength_n_mm2": "N/mm2", "strength_psi": "psi"}
AGES: Final = {"age_d": "d", "age_days": "d", "age_h": "h"}
SUMMED: Final = "equivalent_age_h"
"""Hours at 20 degC; count before all that else tells an age."""

_CURED: Final = {"cured_degC": "degC", "cured_degF": "degF"}
COLUMNS: Final = Columns(
    (tuple(DENSITIES), tuple(STRENGTHS)),
    ("made", "tested", *AGES, SUMMED, *_CURED, "cube", "mix", "batch", "note"),
    tuple(STRENGTHS),
)
KEPT_C: Final = 20.0
"""What cubes are taken to be kept at unless told."""

SAME: Final = 0.005
"""Share by which strength, age and density differ at the most of one cube that was typed in twice (our choice)."""

_AGE_SLACK_H: Final = 24
"""Dates have no hour, so an age may be off by a day from what they say."""


@dataclass(frozen=True)
class Cube:
    """One cube crushed.

    Parameters
    ----------
    dry_density_kg_m3 : oven-dry, or near it.
    strength_mpa : what it bore over the area it was pressed on.
    age_h : hours from the pour to the test; None where the equivalent age alone is known.
    cured_c : temperature it was kept at in degC, the mean of those hours.
    equivalent_age_h : hours at 20 degC where they were summed up; counts before ``age_h``.
    made : day of the pour, where it is known.
    mix : what it is of, where the table names it; tells the strength of that mix before others do.
    """

    dry_density_kg_m3: float
    strength_mpa: float
    age_h: float | None = None
    cured_c: float = KEPT_C
    equivalent_age_h: float | None = None
    made: date | None = None
    mix: str = ""

    def is_again(self, known: Cube) -> bool:
        """Whether it is a cube that is known already, typed in twice: of a mix that names it, or of none."""
        mine, theirs = self._measured(known), known._measured(known)
        alike = all(abs(one - other) <= SAME * other for one, other in zip(mine, theirs, strict=True))
        return alike and known.mix in ("", self.mix)

    def is_older(self, known: Cube) -> bool:
        """Whether it is a cube that is known as younger, for want of a word on how warm it was kept."""
        bare = known.equivalent_age_h is None and known.cured_c == KEPT_C
        hours = (self.equivalent_age_h or 0.0, known.age_h or 0.0)
        return bare and self.is_again(known) and hours[0] > (1 + SAME) * hours[1]

    def _measured(self, other: Cube) -> tuple[float, float, float]:
        """Density, strength, and age in hours: at 20 degC where of the other no other is known."""
        age_h = self.equivalent_age_h if other.age_h is None else self.age_h
        return self.dry_density_kg_m3, self.strength_mpa, age_h or 0.0


@dataclass(frozen=True)
class Cubes:
    """Cubes crushed, and the file they are from as the site names it."""

    tests: tuple[Cube, ...]
    reference: str = field(default="the file of cubes", compare=False, repr=False)

    def has(self, cube: Cube) -> bool:
        """Whether a cube is among them."""
        return any(cube.is_again(known) for known in self.tests)


def read_cubes(path: Path) -> Cubes:
    """Cubes from a table with a row for each cube.

    Columns: dry density (``dry_density_kg_m3`` or ``_lb_ft3``) and strength (``strength_mpa``, ``_n_mm2`` or
    ``_psi``); the age as ``age_d``, ``age_h`` or two dates ``made`` and ``tested``, or summed up as
    ``equivalent_age_h``. ``cured_degC`` (or ``_degF``), where cubes were not kept at 20 degC. ``mix`` tells
    whose they are: a mix is told by its own where those are enough. ``cube``, ``batch`` and ``note`` are for the
    reader.

    Raises
    ------
    BadInput : with every fault of the table.
    """
    table = read_table(path, COLUMNS)
    density, strength = COLUMNS.chosen(table.columns)
    tests: list[Cube] = []
    faults: list[BadInput] = []
    for row in table.rows:
        try:
            tests.append(_cube(table, row, density, strength))
        except BadInput as fault:
            faults.append(fault)
    if faults:
        raise BadInput.of(faults)
    return Cubes(tuple(tests))


def _cube(table: Table, row: Row, density: str, strength: str) -> Cube:
    made = _optional(table, row, "made", read_day)
    return Cube(
        table.read(row, density, _reader("density", DENSITIES[density], 100, 3000), as_number=True),
        table.read(row, strength, _reader("strength", STRENGTHS[strength], 0.001, 200), as_number=True),
        _age_h(table, row, made),
        next((cured for cured in _cells(table, row, _CURED, "temperature", 0, 60)), KEPT_C),
        next(iter(_cells(table, row, {SUMMED: "h"}, "time", 60, 60 * 87_600)), 0.0) / 60 or None,
        made,
        table.text(row, "mix"),
    )


def _age_h(table: Table, row: Row, made: date | None) -> float | None:
    """Hours from pour to test as written, or between its dates; None where only the equivalent age is told."""
    tested = _optional(table, row, "tested", read_day)
    column = next((column for column in AGES if table.cell(row, column)), None)
    written = next((age / 60 for age in _cells(table, row, AGES, "time", 60, 60 * 87_600)), None)
    between = (tested - made).days * 24.0 if made and tested else None
    if between is not None and between <= 0:
        raise table.place(
            BadInput("was tested before a day had passed", "Write age_h, or mend the dates."), row, "tested"
        )
    if written is not None and between is not None and abs(written - between) > _AGE_SLACK_H:
        what = f"is {table.cell(row, column or '')}, and its dates are {between / 24:.0f} days apart"
        raise table.place(BadInput(what, "Correct one of them."), row, column)
    if written is None and between is None and not table.cell(row, SUMMED):
        todo = "Add age_d, or made and tested, or equivalent_age_h."
        raise table.place(BadInput("nothing says how old the cube was", todo, name=""), row)
    return between if written is None else written


def _cells(table: Table, row: Row, columns: dict[str, str], dimension: str, least: float, most: float) -> list[float]:
    """What a row says in those of some columns that it fills; limits in the base unit."""
    filled = ((name, unit) for name, unit in columns.items() if table.cell(row, name))
    return [table.read(row, name, _reader(dimension, unit, least, most), as_number=True) for name, unit in filled]


def _optional(table: Table, row: Row, column: str, read: Callable[[str], date]) -> date | None:
    return table.read(row, column, read) if table.cell(row, column) else None


def _reader(dimension: str, unit: str, least: float, most: float) -> Callable[[str], float]:
    """How to read a number whose unit its column names; limits in the base unit of the dimension."""

    def read(text: str) -> float:
        value = units.read(f"{read_number(text)} {unit}", dimension).value
        if not least <= value <= most:
            limits = " to ".join(units.show_in(limit, dimension, unit) for limit in (least, most))
            raise BadInput(
                f"{text} {unit} is not within {limits}", "Correct it, or the unit in the header.", value=text
            )
        return value

    return read


def _find(reference: str, info: ValidationInfo) -> Cubes:
    if not isinstance(info.context, References):
        raise BadInput(f"{reference} is named outside a file", "Read the cubes with read_cubes first.")
    return Cubes(read_cubes(info.context.find(reference)).tests, reference)


CubesFile = Annotated[Cubes, Named("a file of cubes", "cubes.csv", Cubes, _find)]
