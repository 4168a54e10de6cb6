"""The blocks of a plan by part, course and mark: when they are poured, ready and needed, and how late they are."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from blockrun.order import DomePart, OrderLine
from blockrun.order.parts import part_names
from blockrun.planner.rows import Row, grouped, rows_of
from blockrun.show.apart import DO_NOT_LAY, count_said
from blockrun.show.page import glued
from blockrun.show.piece_numbers import piece_numbers
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.order.shape import Shape
    from blockrun.planner.plan import Plan


@dataclass(frozen=True)
class CourseRow:
    """Blocks of one mark and mix for one course of one part, needed by one day.

    Parameters
    ----------
    part, course : where they go; an empty part for spares, None where a part has no courses.
    mark, mix, shape : what is cast.
    count : how many.
    poured : first and last day of pouring.
    ready : the day on which the last of them is ready to lay.
    needed : the day on which they are needed, or None.
    late : how many of them are ready only after that.
    role : what they are for, such as a lintel; empty for plain ones.
    apart : of it, blocks of batches outside their cards: the batch and how many.
    cuts : what is sawn off before they are laid, in words with the number of a dome's piece, and of how many.
    """

    part: str
    course: int | None
    mark: str
    mix: str
    shape: Shape
    count: int
    poured: tuple[date, date]
    ready: date
    needed: date | None
    late: int
    role: str = ""
    cuts: tuple[tuple[str, int], ...] = ()
    apart: tuple[tuple[int, int], ...] = ()

    @property
    def days_late(self) -> int:
        """Days by which the last of them is late."""
        return max(0, (self.ready - self.needed).days) if self.needed else 0

    @property
    def n_apart(self) -> int:
        """Blocks that are not to be laid."""
        return sum(count for _, count in self.apart)

    @property
    def not_to_lay(self) -> str:
        """``DO NOT LAY 5 of batch 12``; empty where there are none."""
        said = count_said(self.n_apart, self.count, (batch for batch, _ in self.apart))
        return f"{DO_NOT_LAY} {said}" if self.apart else ""


class _Place(NamedTuple):
    part: str
    course: int | None
    mark: str
    mix: str


def course_rows(plan: Plan, apart: Container[int] = ()) -> list[CourseRow]:
    """All blocks of a plan, part by part in the order of its file, course by course, spares last."""
    lines = plan.ordered
    told: dict[_Place, list[OrderLine]] = defaultdict(list)
    for line in lines:
        told[_place_of(line)].append(line)
    shapes = {line.mark: line.shape for line in lines}
    pieces = _pieces(plan, lines)
    found = [
        replace(_row(place, shapes[place.mark], casts, told[place], pieces), apart=_apart(casts, apart))
        for place, casts in grouped(rows_of(plan.tables.casts), _place_of).items()
    ]
    order = {name: number for number, name in enumerate(_parts(plan, lines))}
    return sorted(found, key=lambda row: (order.get(row.part, len(order)), row.course or 0, row.mark, row.mix))


def found_said(plan: Plan, part: str) -> str:
    """``8 more were found in a count: 8 plinth for course 2``; empty where none of a part were."""
    found = [line for line in plan.found if line.part == part]
    if not found:
        return ""
    for_course = [
        f"{glued(f'{line.count} {line.mark}')}{'' if line.course is None else f' for course {line.course}'}"
        for line in found
    ]
    total = sum(line.count for line in found)
    return f"{total} more {'was' if total == 1 else 'were'} found in a count: {listed(for_course)}"


def _place_of(block: OrderLine | Row) -> _Place:
    return _Place(block.part, block.course, block.mark, block.mix)


def _apart(casts: Sequence[Row], apart: Container[int]) -> tuple[tuple[int, int], ...]:
    return tuple(sorted(Counter(cast.batch for cast in casts if cast.batch in apart).items()))


def _row(
    place: _Place, shape: Shape, casts: Sequence[Row], lines: Iterable[OrderLine], pieces: Mapping[_Cut, str]
) -> CourseRow:
    poured = [cast.poured.date() for cast in casts]
    needed = min((cast.needed.date() for cast in casts if cast.needed), default=None)
    return CourseRow(
        *place,
        shape,
        len(casts),
        (min(poured), max(poured)),
        max(cast.ready for cast in casts).date(),
        needed,
        sum(bool(cast.needed and cast.ready.date() > cast.needed.date()) for cast in casts),
        next((line.role for line in lines if line.role), ""),
        tuple((pieces.get((line.part, line.mark, line.cut), line.cut), line.count) for line in lines if line.cut),
    )


_Cut = tuple[str, str, str]
"""A part, a mark, and what is sawn off."""


def _pieces(plan: Plan, lines: Sequence[OrderLine]) -> Mapping[_Cut, str]:
    """Names of the pieces of domes, such as ``x8``; other parts tell their cuts in words."""
    domes = {part.name for part in plan.order.parts if isinstance(part, DomePart)}
    of_part = {
        part: piece_numbers((line.course or 0, line.mark, line.cut) for line in lines if line.part == part)
        for part in domes
    }
    return {(part, *cut): name for part, names in of_part.items() for cut, name in names.items()}


def _parts(plan: Plan, lines: Iterable[OrderLine]) -> Iterator[str]:
    """Names of parts in the order of the file, then those that rows of lists name themselves."""
    yield from dict.fromkeys([*part_names(plan.order), *(line.part for line in lines)])
