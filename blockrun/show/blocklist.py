"""The blocks of an order as a list that another order may name: what is read back is what was written."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Final

from blockrun.order import OrderLine
from blockrun.order.lists import LEANS
from blockrun.show.workbook.one_sheet import Cell

_DECIMALS: Final = 6
_COLUMNS: Final = (
    "part",
    "mark",
    "length_mm",
    "height_mm",
    "thickness_mm",
    "count",
    "mix",
    "course",
    "needed",
    *LEANS,
    "cut",
    "role",
    "volume_l",
    "dry_mass_kg",
)

Mass = Callable[[OrderLine], float]
"""Mass of one block of a line, kg."""


def block_rows(lines: Iterable[OrderLine], dry_kg: Mass, wet_kg: Mass | None = None) -> list[tuple[Cell, ...]]:
    """A table with a row for each line, under its header.

    Parameters
    ----------
    lines : as taken off.
    dry_kg, wet_kg : mass of one block, oven-dry and as poured; a column more where the wet one is known.

    Returns
    -------
    Rows of cells; mm, degrees, litres and kg. Volume and masses are of one block.
    """
    masses = [dry_kg, *([wet_kg] if wet_kg else [])]
    header = (*_COLUMNS, *(["wet_mass_kg"] if wet_kg else []))
    return [header, *((*_cells(line), *(Decimal(f"{mass(line):.2f}") for mass in masses)) for line in lines)]


def _cells(line: OrderLine) -> Iterator[Cell]:
    shape = line.shape
    yield from (line.part, line.mark)
    yield from map(_number, (shape.length_mm, shape.height_mm, shape.thickness_mm))
    yield from (line.count, line.mix)
    yield "" if line.course is None else line.course
    yield "" if line.needed is None else line.needed.isoformat()
    yield from (_number(lean) if lean else "" for lean in (shape.bevel_deg, shape.taper_deg, shape.bed_deg))
    yield from (line.cut, line.role, Decimal(f"{line.volume_l:.3f}"))


def _number(value: float) -> Decimal:
    """As few decimals as say the value exactly, to the nanometre."""
    return Decimal(f"{value:.{_DECIMALS}f}".rstrip("0").rstrip("."))


def as_csv(rows: Iterable[Sequence[Cell]]) -> str:
    """Rows of cells as the text of a CSV file."""
    written = io.StringIO()
    csv.writer(written, lineterminator="\n").writerows(rows)
    return written.getvalue()
