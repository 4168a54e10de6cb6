"""The list of blocks: part by part and course by course, what is poured and ready when, and what of it is late."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING, Any, Final

from blockrun.files.day_names import day_name
from blockrun.order import WallPart
from blockrun.order.parts import layout_of, marks_of
from blockrun.order.walls import WallLayout
from blockrun.show.apart import DO_NOT_LAY
from blockrun.show.cautions import SHORT
from blockrun.show.course_rows import CourseRow, course_rows, found_said
from blockrun.show.inserts import Inserts
from blockrun.show.paper.picture import picture_sheets
from blockrun.show.paper.press import Sheet
from blockrun.show.pictures.paper import unit
from blockrun.show.tape import note_on_tape, on_tape, size_on_tape, words_on_tape
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.show.paper.asked import Asked

NEED_AN_ENGINEER: Final = ("lintel", "ring beam")
"""What blocks are for that carry more than what stands on them."""
_PIECE: Final = re.compile(r"x\d+")
"""How pieces of a dome are numbered: after a count it would read as a product."""
_NOT_ASKED: Final = (
    "Lintels and ring beams, marked E here and L or R on the pictures, are to be designed by a licensed engineer."
)


def block_list(asked: Asked) -> Iterator[Sheet]:
    """A sheet for each part and one for the spares, of the whole order; after those of a wall its elevations."""
    order, moulds = asked.plan.order, asked.plan.site.moulds
    walls = {part.name: part for part in order.parts if isinstance(part, WallPart)}
    for name, rows in groupby(course_rows(asked.plan, asked.apart), key=lambda row: row.part):
        wall = walls.get(name)
        yield Sheet(
            "block_list", _part(name, list(rows), asked.units, found_said(asked.plan, name)) | _wall(wall, asked.units)
        )
        if wall:
            yield from picture_sheets(wall, moulds, marks_of(order, moulds), asked.units, but="notes and sizes")


def _part(name: str, rows: Sequence[CourseRow], units: str, found: str = "") -> dict[str, Any]:
    return {
        "title": f"Blocks: {name}" if name else "Blocks: spares",
        "said": [*_said(rows, units), *([found] if found else [])],
        "rows": [_row(row, units) for row in rows],
        "courses": any(row.course for row in rows),
        "needed": any(row.needed for row in rows),
        "cautions": SHORT,
        "engineer": _NOT_ASKED if any(row.role in NEED_AN_ENGINEER for row in rows) else "",
    }


def _said(rows: Sequence[CourseRow], units: str) -> Iterator[str]:
    """How many there are, when they are needed, and how many of them are late."""
    yield counted(sum(row.count for row in rows), "block")
    needed = sorted(row.needed for row in rows if row.needed)
    if needed:
        yield f"needed {_from_to(needed[0], needed[-1], units)}"
    yield f"the last ready {day_name(max(row.ready for row in rows))}"
    if late := sum(row.late for row in rows):
        yield f"{counted(late, 'block')} LATE"
    if apart := sum(row.n_apart for row in rows):
        yield f"{DO_NOT_LAY} {counted(apart, 'block')}, outside their card"


def _row(row: CourseRow, units: str) -> dict[str, Any]:
    shape = row.shape
    return {
        "course": str(row.course or ""),
        "mark": row.mark,
        "role": row.role,
        "engineer": row.role in NEED_AN_ENGINEER,
        "size": size_on_tape(units, shape.length_mm, shape.height_mm, shape.thickness_mm),
        "mix": row.mix,
        "leans": Inserts(None, shape.bevel_deg, shape.taper_deg, shape.bed_deg).said(units),
        "cuts": "; ".join(f"{words_on_tape(_cut(cut), units)} (on {count})" for cut, count in row.cuts),
        "count": row.count,
        "poured": _from_to(*row.poured, units),
        "ready": day_name(row.ready),
        "apart": row.not_to_lay,
        "needed": day_name(row.needed) if row.needed else "",
        "late": f"LATE {counted(row.days_late, 'day')}" if row.late else "",
        "late_count": f"{row.late} of {row.count}" if 0 < row.late < row.count else "",
    }


def _cut(cut: str) -> str:
    """``cut x16``; what is told in words as it is."""
    return f"cut {cut}" if _PIECE.fullmatch(cut) else cut


def _wall(part: WallPart | None, units: str) -> dict[str, Any]:
    """The openings of a wall as they are laid, and what is to be known of it."""
    if part is None:
        return {"openings": [], "notes": [], "unit": ""}
    layout = layout_of(part)
    assert isinstance(layout, WallLayout)
    openings = [
        [name, face.name if len(layout.faces) > 1 else "", *(on_tape(length, units) for length in _hole(corners))]
        for face in layout.faces
        for name, corners in face.openings
    ]
    notes = sorted(map(note_on_tape, layout.notes), key=lambda note: not note.startswith("Caution:"))
    return {"openings": openings, "notes": notes, "unit": unit(units)}


def _hole(corners: Sequence[tuple[float, float]]) -> Iterator[float]:
    """From the start of the run to an opening, its width, and its sill and head over the floor, mm."""
    xs, ys = zip(*corners, strict=True)
    yield from (min(xs), max(xs) - min(xs), min(ys), max(ys))


def _from_to(first: date, last: date, units: str) -> str:
    """``Mon 5 to Fri 9 Apr``; where the month is written first, with it both times."""
    if first == last:
        return day_name(first)
    short = units != "US" and (first.year, first.month) == (last.year, last.month)
    return f"{day_name(first).rpartition(' ')[0] if short else day_name(first)} to {day_name(last)}"
