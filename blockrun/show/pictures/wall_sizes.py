"""What does not find room on the elevations of a wall: its notes, and sizes to lay and to saw by."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.order.walls import Face, WallLayout
from blockrun.show.cautions import DUST
from blockrun.show.pictures.paper import HEIGHT_MM, WIDTH_MM, number, render, unit
from blockrun.show.pictures.strips import LEFT
from blockrun.show.pictures.wall_dimensions import is_changed
from blockrun.show.pictures.wall_names import WallNames
from blockrun.show.tape import note_on_tape

_TOP: Final = 13.0
_LINE_MM: Final = 3.6
_COLUMNS: Final = 2
_CHARACTERS: Final = 90
"""Of a line of a column."""

_GLUED: Final = re.compile(r"(?<=[\d:]) (?=mm|in\b|\d)")
"""Spaces at which a line is not broken: between a number and its unit, or its name."""


@dataclass(frozen=True)
class _Line:
    text: str
    bold: bool = False
    indented: bool = False


def wall_sizes(layout: WallLayout, names: WallNames, title: str, *, units: str) -> list[str]:
    """SVG sheets of the notes of a wall, its courses, openings and sawn blocks.

    Parameters
    ----------
    names : what blocks are called, as on the elevations.
    """
    lines = [line for heading, entries in _sections(layout, names, units) for line in _set(heading, entries)]
    a_column = int((HEIGHT_MM - _TOP) / _LINE_MM)
    columns = [lines[start : start + a_column] for start in range(0, len(lines), a_column)]
    sheets = [columns[start : start + _COLUMNS] for start in range(0, len(columns), _COLUMNS)]
    of = [f", sheet {n} of {len(sheets)}" if len(sheets) > 1 else "" for n in range(1, len(sheets) + 1)]
    return [_sheet(title + part, sheet) for part, sheet in zip(of, sheets, strict=True)]


def _sheet(title: str, columns: Sequence[Sequence[_Line]]) -> str:
    wide = (WIDTH_MM - LEFT) / _COLUMNS
    words = [
        {"x": LEFT / 2 + wide * column, "y": _TOP + _LINE_MM * row, "line": line}
        for column, lines in enumerate(columns)
        for row, line in enumerate(lines)
    ]
    return render("wall_sizes.svg.jinja", title=title, width=WIDTH_MM, height=HEIGHT_MM, margin=LEFT / 2, words=words)


def _set(heading: str, entries: Sequence[str]) -> Iterator[_Line]:
    if not entries:
        return
    yield _Line(heading, bold=True)
    for entry in entries:
        glued = _GLUED.sub("\N{NO-BREAK SPACE}", entry)
        for row, text in enumerate(textwrap.wrap(glued, _CHARACTERS, break_on_hyphens=False)):
            yield _Line(text, indented=row > 0)
    yield _Line("")


def _sections(layout: WallLayout, names: WallNames, units: str) -> Iterator[tuple[str, list[str]]]:
    yield "Notes", [note_on_tape(note) for note in layout.notes]
    yield f"Tops of courses above the floor, {unit(units)}", [_courses(layout, units)]
    yield (
        f"Openings, {unit(units)} from the start of the run and from the floor",
        [line for face in layout.faces for line in _openings(face, units)],
    )
    yield (
        f"Inner walls and piers at the back of runs, {unit(units)} from the start of the run",
        [line for face in layout.faces for line in _behind(face, units)],
    )
    if sawn := list(_sawn(names)):
        yield "Sawn blocks, left and right as drawn", [DUST, *sawn]


def _courses(layout: WallLayout, units: str) -> str:
    tops: dict[int, float] = {}
    for block in layout.blocks:
        tops[block.course] = max(tops.get(block.course, 0.0), *(up for _, up in block.corners))
    return ", ".join(f"{course}: {number(up, units)}" for course, up in sorted(tops.items()))


def _openings(face: Face, units: str) -> Iterator[str]:
    for index, ((name, corners), written) in enumerate(zip(face.openings, face.written, strict=True), 1):
        alongs, ups = zip(*corners, strict=True)
        places = (min(alongs), max(alongs), min(ups), max(ups), *written)
        said = [number(max(0.0, length), units) for length in places]
        as_written = f", written sill {said[4]}, head {said[5]}" if is_changed(corners, written) else ""
        place = f"from {said[0]} to {said[1]}, sill {said[2]}, head {said[3]}"
        yield f"{face.name} {index}, {name}: {place}{as_written}"


def _behind(face: Face, units: str) -> Iterator[str]:
    for name, near, far in face.behind:
        yield f"{face.name}, {name}: from {number(near, units)} to {number(far, units)}"


def _sawn(names: WallNames) -> Iterator[str]:
    for cut, key in names.sawn.items():
        blocks = (f"{count} of {mark}" for (mark, alike), count in sorted(names.counts.items()) if alike == cut)
        yield f"{key}: {', '.join(blocks)}: {cut}"
