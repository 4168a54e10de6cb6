"""The blocks of an order as a list that another order may name: what is read back is what was written."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable
from typing import Final

from blockrun.order import OrderLine
from blockrun.order.lists import LEANS

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


def block_list(lines: Iterable[OrderLine], dry_kg: Mass, wet_kg: Mass | None = None) -> str:
    """A CSV table with a row for each line.

    Parameters
    ----------
    lines : as taken off.
    dry_kg, wet_kg : mass of one block, oven-dry and as poured; a column more where the wet one is known.

    Returns
    -------
    Text with a header; mm, degrees, litres and kg. Volume and masses are of one block.
    """
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow((*_COLUMNS, *(["wet_mass_kg"] if wet_kg else [])))
    for line in lines:
        shape = line.shape
        sides = (shape.length_mm, shape.height_mm, shape.thickness_mm)
        leans = (shape.bevel_deg, shape.taper_deg, shape.bed_deg)
        masses = [dry_kg(line), *([wet_kg(line)] if wet_kg else [])]
        writer.writerow(
            (
                line.part,
                line.mark,
                *map(_number, sides),
                line.count,
                line.mix,
                "" if line.course is None else line.course,
                line.needed or "",
                *(_number(lean) if lean else "" for lean in leans),
                line.cut,
                line.role,
                f"{line.volume_l:.3f}",
                *(f"{mass:.2f}" for mass in masses),
            )
        )
    return written.getvalue()


def _number(value: float) -> str:
    """As few decimals as say the value exactly, to the nanometre."""
    return f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".")
