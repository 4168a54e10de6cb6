"""Block lists: a row for so many equal blocks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import Final, TypeVar

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.header import UNIT_AFTER
from blockrun.files.tables import Table, read_table
from blockrun.files.text import References
from blockrun.order.shape import Shape
from blockrun.site.values import (
    LONGEST_SIDE_MM,
    THINNEST_BLOCK_MM,
    read_day,
    read_fraction,
    read_name,
    read_number,
    read_whole,
    shorten,
)

SIDES: Final = ("length", "height", "thickness")
LEANS: Final = ("bevel_deg", "taper_deg", "bed_deg")
FOR_THE_READER: Final = ("volume_l", "dry_mass_kg", "wet_mass_kg")
"""Columns that a list we write may have, and that are not read again."""
TOTALS: Final = ("total", "totals", "sum", "subtotal", "sub-total", "grand total")
_COLUMNS: Final = Columns(
    (("mark",), *(tuple(f"{side}_{unit}" for unit in units.UNITS["length"]) for side in SIDES), ("count",)),
    ("mix", "course", "needed", "part", *LEANS, "cut", "role", *FOR_THE_READER),
    ("count",),
    {"qty": "count", "quantity": "count", "number": "count", "no": "count", "pcs": "count", "pieces": "count"},
)
_MOST_BLOCKS: Final = 1_000_000
_MOST_COURSES: Final = 1000
_STEEPEST_DEG: Final = 60
_LONGEST_CUT: Final = 1000

Value = TypeVar("Value")


@dataclass(frozen=True)
class ListRow:
    """One row of a block list; sizes in mm; `place` is the row of the table it was read from.

    ``part`` names the part its blocks belong to, where that is not the whole list; the others are as in OrderLine.
    """

    mark: str
    length_mm: float
    height_mm: float
    thickness_mm: float
    count: int
    mix: str | None = None
    course: int | None = None
    needed: date | None = None
    part: str | None = None
    bevel_deg: float = 0.0
    taper_deg: float = 0.0
    bed_deg: float = 0.0
    cut: str = ""
    role: str = ""
    place: Row | None = field(default=None, compare=False, repr=False)

    @property
    def size_mm(self) -> tuple[float, float, float]:
        """Length, height and thickness in mm."""
        return (self.length_mm, self.height_mm, self.thickness_mm)

    @property
    def shape(self) -> Shape:
        """What is cast."""
        return Shape(*self.size_mm, self.bevel_deg, self.taper_deg, self.bed_deg)


@dataclass(frozen=True)
class BlockList:
    """A block list: how the order file names it, its rows, and the table they were read from."""

    reference: str
    rows: tuple[ListRow, ...]
    table: Table | None = field(default=None, compare=False, repr=False)


def read_block_list(reference: str, references: References) -> BlockList:
    """A block list from the CSV or XLSX file that an order names.

    Columns: mark, count, and length, height and thickness each with its unit (``length_mm``). Empty or missing may be
    mix, course and needed; part, where the list holds several; bevel_deg, taper_deg and bed_deg of blocks whose
    faces lean; cut and role, in words. Volumes and masses are for the reader and not read.

    Raises
    ------
    BadInput : with every fault of the table.
    """
    table = read_table(references.find(reference), _COLUMNS)
    sides = _COLUMNS.chosen(table.columns)[1:4]
    rows: list[ListRow] = []
    faults: list[BadInput] = []
    for row in table.rows:
        try:
            rows.append(_read_row(table, row, sides))
        except BadInput as fault:
            faults.append(fault)
    if faults:
        raise BadInput.of(faults)
    return BlockList(reference, tuple(rows), table)


def _read_row(table: Table, row: Row, sides: list[str]) -> ListRow:
    """One row; every cell of it is tried, so that all its faults show."""
    if other := _no_blocks(table, row, sides):
        raise other
    faults: list[BadInput] = []

    def cell(column: str, read: Callable[[str], Value], *, as_number: bool = False) -> Value | None:
        try:
            return table.read(row, column, read, as_number=as_number)
        except BadInput as fault:
            faults.append(fault)
            return None

    def optional(column: str, read: Callable[[str], Value], *, as_number: bool = False) -> Value | None:
        return cell(column, read, as_number=as_number) if table.cell(row, column) else None

    mark = cell("mark", read_name)
    size = [cell(column, _reader_of(column), as_number=True) for column in sides]
    count = cell("count", _read_count, as_number=True)
    mix = optional("mix", read_name)
    course = optional("course", _read_course, as_number=True)
    needed: date | None = optional("needed", read_day)
    part, role = (optional(column, read_name) for column in ("part", "role"))
    cut = optional("cut", _read_cut)
    bevel, taper, bed = (optional(column, _read_angle, as_number=True) or 0.0 for column in LEANS)
    if faults or mark is None or count is None:
        raise BadInput.of(faults)
    length, height, thickness = (side or 0.0 for side in size)
    return ListRow(
        *(mark, length, height, thickness, count, mix, course, needed),
        part=part,
        bevel_deg=bevel,
        taper_deg=taper,
        bed_deg=bed,
        cut=cut or "",
        role=role or "",
        place=row,
    )


def _no_blocks(table: Table, row: Row, sides: list[str]) -> BadInput | None:
    """One complaint for a row of totals or a remark, which has no cell to mend."""
    mark = table.cell(row, "mark")
    if mark.lower().rstrip(" :.") in TOTALS:
        fault = BadInput(f"{mark} looks like the name of a row of totals", "Take the row out, or name the mark anew.")
        return table.place(fault, row, "mark")
    empty = [column for column in ("mark", *sides, "count") if not table.cell(row, column)]
    if len(empty) < 2:
        return None
    what = f"{', '.join(empty[:-1])} and {empty[-1]} are empty"
    todo = "Fill the cells; if the row holds totals or a remark, take it out."
    return table.place(BadInput(what, todo, name=empty[0]), row, empty[0])


def _read_cut(text: str) -> str:
    """What is sawn off, in as many words as it takes."""
    if len(text) > _LONGEST_CUT or not text.isprintable():
        todo = f"Say in one line of up to {_LONGEST_CUT} characters what to saw off."
        raise BadInput(f"{shorten(text)} is too long or does not print", todo, value=text)
    return text


def _read_angle(text: str) -> float:
    angle = float(read_number(text))
    if not 0 <= angle <= _STEEPEST_DEG:
        raise BadInput(f"{text} is no lean of a face", f"Write degrees from 0 to {_STEEPEST_DEG}.", value=text)
    return angle


def _reader_of(column: str) -> Callable[[str], float]:
    """How to read the cells of a side's column: a number, or one such as ``15 5/8``, in the unit of its header.

    The unit may be written once more behind the number.
    """
    unit = column.rsplit("_", 1)[1]
    factor = units.factor(unit, "length")

    def read(written: str) -> float:
        text = _without(unit, written)
        number = read_fraction(text) if "/" in units.plain(text) else read_number(text)
        units.check_thousands(text, lambda number: _is_side(number * factor))
        side_mm = round(float(number) * factor, 6)
        if not _is_side(side_mm):
            least, most = (units.show_in(side, "length", unit) for side in (THINNEST_BLOCK_MM, LONGEST_SIDE_MM))
            todo = f"Write a length from {least} to {most}."
            if 0 < side_mm < THINNEST_BLOCK_MM:
                todo += " The least is our choice: thinner ones break in the hand."
            raise BadInput(f"{text} is no side of a block", todo, value=text)
        return side_mm

    return read


def _is_side(side_mm: float) -> bool:
    """Whether a block can be so long, high or thick; the least as it is shown in inches, too."""
    return round(side_mm, 1) >= THINNEST_BLOCK_MM and side_mm <= LONGEST_SIDE_MM


def _without(unit: str, written: str) -> str:
    """What is written, without the unit of its header; refused with another one."""
    found = UNIT_AFTER.fullmatch(written)
    if found is None or found[2] not in units.UNITS["length"]:
        return written
    if found[2] != unit:
        raise BadInput(f"{written} is not in {unit}, as its column is", f"Write it in {unit}.", value=written)
    return found[1]


def _read_count(text: str) -> int:
    return _between(read_whole(text), text, "blocks", _MOST_BLOCKS)


def _read_course(text: str) -> int:
    return _between(read_whole(text), text, "course", _MOST_COURSES)


def _between(number: int, text: str, what: str, most: int) -> int:
    if not 1 <= number <= most:
        raise BadInput(f"{text} is not from 1 to {most} ({what})", "Correct it, or take the row out.", value=text)
    return number
