"""The list of cuts, for the wall beside the saw: what is sawn off which block, for which courses, and how many."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, Any

from blockrun.order import DomePart, WallPart
from blockrun.show.cautions import DUST
from blockrun.show.paper.press import Sheet
from blockrun.show.piece_numbers import CutOf, numbers_of_cuts
from blockrun.show.tape import size_on_tape, words_on_tape
from blockrun.units import counted

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.order.model import Part
    from blockrun.show.paper.asked import Asked


def cut_list(asked: Asked) -> Iterator[Sheet]:
    """A sheet for each part of the whole order of which blocks are cut."""
    plan = asked.plan
    lines = sorted((line for line in plan.ordered if line.cut), key=lambda line: line.part)
    numbers, kinds = numbers_of_cuts(plan.order, plan.ordered), {part.name: part for part in plan.order.parts}
    for part, group in groupby(lines, key=lambda line: line.part):
        cuts = list(group)
        rows = list(_rows(cuts, numbers, asked.units))
        numbered = any(row["number"] for row in rows)
        yield Sheet(
            "cut_list",
            {
                "title": f"Cuts: {part}" if part else "Cuts",
                "said": _said(sum(line.count for line in cuts), kinds.get(part), numbered=numbered),
                "rows": rows,
                "numbered": numbered,
                "cautions": DUST,
            },
        )


def _said(count: int, part: Part | None, *, numbered: bool) -> str:
    """How many there are, and how left and right are meant; a list says that itself."""
    said = f"{counted(count, 'block')} to cut.{' Write its number on each piece.' if numbered else ''}"
    if isinstance(part, DomePart):
        return f"{said} Left and right are as seen from outside the dome. In true size: the sheets named templates."
    return f"{said} Left and right are as on the pictures of the wall." if isinstance(part, WallPart) else said


def _rows(lines: Sequence[OrderLine], numbers: Mapping[CutOf, str], units: str) -> Iterator[dict[str, Any]]:
    """A row for each cut of each mark and mix, by their numbers, those without one last."""
    alike: dict[tuple[str, str, str, str], list[OrderLine]] = defaultdict(list)
    for line in lines:
        number = numbers.get((line.part, line.mark, line.cut), "")
        alike[number, line.mark, line.mix, line.cut].append(line)
    for (number, mark, mix, cut), same in sorted(alike.items(), key=lambda one: (_nth(one[0][0]), one[0])):
        size = size_on_tape(units, same[0].length_mm, same[0].height_mm, same[0].thickness_mm)
        yield {
            "number": number,
            "cut": words_on_tape(cut, units),
            "mark": mark,
            "size": f"{size}, {mix}",
            "courses": _courses(same),
            "count": str(sum(line.count for line in same)),
        }


def _nth(number: str) -> float:
    return int(number.removeprefix("x")) if number else float("inf")


def _courses(lines: Sequence[OrderLine]) -> str:
    """``1, 3``, with how many on each where it is not one: ``1 (2), 3``."""
    counts: dict[int, int] = defaultdict(int)
    for line in lines:
        if line.course is not None:
            counts[line.course] += line.count
    return ", ".join(f"{course} ({n})" if n > 1 else str(course) for course, n in sorted(counts.items()))
