"""The parts of an order as rows of blocks, whether a list names them or a wall or a dome is laid out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from pathlib import PurePath
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.files.yaml import read_yaml
from blockrun.order.domes import DomeLayout, DomePart, lay_dome
from blockrun.order.laid import Laid
from blockrun.order.lists import ListRow
from blockrun.order.marks import Kind, kind_of, marks_for
from blockrun.order.model import ListPart, Order, OrderFile, Part, WrittenPart
from blockrun.order.shape import Shape
from blockrun.order.walls import WallLayout, WallPart, lay_wall

if TYPE_CHECKING:
    from blockrun.order.need import Need
    from blockrun.site import MouldKind

_LAYOUTS_KEPT: Final = 64


@dataclass(frozen=True)
class Row:
    """Equal blocks of one course of a part; ``part`` is its own, where that is not the one it stands in."""

    mark: str
    mix: str
    course: int | None
    shape: Shape
    count: int
    needed: date | None = None
    part: str | None = None
    cut: str = ""
    role: str = ""


@dataclass(frozen=True)
class PartRows:
    """A part: what to call it, when its courses are needed, and its blocks."""

    name: str
    need: Need | None
    rows: tuple[Row, ...]


def rows_of_parts(order: Order, moulds: Sequence[MouldKind]) -> list[PartRows]:
    """Every part of an order, in the order of its parts.

    Parameters
    ----------
    moulds : of the site; what they can cast decides how the blocks of a dome are made.

    Raises
    ------
    BadInput : a wall or a dome cannot be laid, at its place in the order file.
    """
    marks = marks_of(order, moulds)
    return [
        PartRows(name, part.needed, tuple(_rows(order, part, marks, moulds)))
        for part, name in zip(order.parts, part_names(order), strict=True)
    ]


def marks_of(order: Order, moulds: Sequence[MouldKind] = ()) -> dict[Kind, str]:
    """Marks of the blocks of walls and domes, which are those of no list."""
    kinds = {
        kind_of(letter_of(part), block)
        for part in order.parts
        if not isinstance(part, ListPart)
        for block in _laid(order, part, moulds)
    }
    return marks_for(kinds, {row.mark for blocks in order.lists for row in blocks.rows})


def notes_of_parts(order: Order, moulds: Sequence[MouldKind]) -> list[tuple[str, tuple[str, ...]]]:
    """What is to be known of each wall and dome: its name, and sentences for the builder."""
    made = [part for part in order.parts if not isinstance(part, ListPart)]
    return [(part.name, layout_of(part, tuple(moulds)).notes) for part in made]


def letter_of(part: WallPart | DomePart) -> str:
    """First letter of the marks of a part's blocks."""
    return "W" if isinstance(part, WallPart) else "D"


@lru_cache(maxsize=_LAYOUTS_KEPT)
def layout_of(part: WallPart | DomePart, moulds: tuple[MouldKind, ...] = ()) -> WallLayout | DomeLayout:
    """A wall or a dome laid out, kept for the next time it is asked for."""
    return lay_wall(part) if isinstance(part, WallPart) else lay_dome(part, moulds)


def _laid(order: Order, part: WallPart | DomePart, moulds: Sequence[MouldKind]) -> tuple[Laid, ...]:
    try:
        return layout_of(part, tuple(moulds)).blocks
    except BadInput as fault:
        path = order.sources.get("")
        raise read_yaml(path).place(fault, order.written_at(part)) if path else fault from None


def _rows(order: Order, part: Part, marks: dict[Kind, str], moulds: Sequence[MouldKind]) -> Iterator[Row]:
    if isinstance(part, ListPart):
        for row in part.blocks.rows:
            mix = mix_of(row, part, order)
            yield Row(row.mark, mix, row.course, row.shape, row.count, row.needed, row.part, row.cut, row.role)
        return
    letter, mix = letter_of(part), mix_of(None, part, order)
    counts = Counter((block.course, kind_of(letter, block), block.cut) for block in _laid(order, part, moulds))
    for (course, kind, cut), count in counts.items():
        _, shape, role = kind
        yield Row(marks[kind], mix, course, shape, count, cut=cut, role=role)


def mix_of(row: ListRow | None, part: WrittenPart, order: Order | OrderFile) -> str:
    """The mix of a row: its own, else its part's, else the only one of the order (empty when there are several)."""
    own = row.mix if row else None
    return own or part.mix or (order.mixes[0].name if len(order.mixes) == 1 else "")


def part_names(order: Order) -> list[str]:
    """What to call each part: its name, or that of its file, without folder and ending where that tells it apart."""
    stems = [part.name or PurePath(_reference(part)).stem for part in order.parts]
    shared = {stem for stem in stems if len(_references(order, stems, stem)) > 1}
    return [
        _reference(part) if part.name is None and stem in shared else stem
        for stem, part in zip(stems, order.parts, strict=True)
    ]


def _reference(part: Part) -> str:
    return part.blocks.reference if isinstance(part, ListPart) else part.name


def _references(order: Order, stems: list[str], stem: str) -> set[str]:
    return {_reference(part) for part, other in zip(order.parts, stems, strict=True) if other == stem}
