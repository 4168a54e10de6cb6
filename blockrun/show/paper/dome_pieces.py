"""The distinct pieces of a dome: each once, with its true faces, what it is sawn from, and where it is laid."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.order.domes import DomeLayout
from blockrun.order.domes.faces import Face, crown_faces, faces
from blockrun.order.marks import Kind, kind_of
from blockrun.order.parts import layout_of, letter_of
from blockrun.show.piece_numbers import piece_numbers

if TYPE_CHECKING:
    from blockrun.order import DomePart
    from blockrun.order.laid import Laid
    from blockrun.order.shape import Shape
    from blockrun.site import MouldKind

_ALIKE_MM: Final = 0.5
"""Pieces whose corners are no further apart are one piece."""
_LETTERS: Final = "abcdefghijklmnopqrstuvwxyz"


@dataclass(frozen=True)
class DomePiece:
    """One piece of a dome, as often as it is laid.

    Parameters
    ----------
    name : ``x8``, by which pictures and take-off tell it; the mark of a block that is laid as cast.
    mark, cast : of the block it comes out of.
    cut : what is sawn off, in words; empty where it is laid as cast.
    laid : the shape before openings; the box round it where it is cut round.
    outside, inside : its faces, both as seen from outside the dome.
    by_course : how many of them each course has.
    blocks : which blocks of the layout they are, counted from 0.
    is_round : whether it is the crown block.
    """

    name: str
    mark: str
    cast: Shape
    cut: str
    laid: Shape
    outside: Face
    inside: Face
    by_course: Mapping[int, int]
    blocks: tuple[int, ...]
    is_round: bool = False

    @property
    def count(self) -> int:
        """How many there are in the dome."""
        return sum(self.by_course.values())

    @property
    def is_box(self) -> bool:
        """Whether all its corners are right angles: such a one is marked out with a square."""
        shape = self.laid
        leans = (shape.bevel_deg, shape.taper_deg, shape.bed_deg)
        return not (any(leans) or self.is_round or self.outside.taken or self.inside.taken)


def dome_pieces(part: DomePart, moulds: Sequence[MouldKind], marks: Mapping[Kind, str]) -> list[DomePiece]:
    """Every distinct piece of a dome, from the bottom course up."""
    layout = layout_of(part, tuple(moulds))
    assert isinstance(layout, DomeLayout)
    letter = letter_of(part)
    called = [(block, marks[kind_of(letter, block)]) for block in layout.blocks]
    numbers = piece_numbers((block.course, mark, block.cut) for block, mark in called)
    alike: dict[tuple[str, str], list[_Alike]] = defaultdict(list)
    for number, ((block, mark), (laid, outside, inside)) in enumerate(zip(called, _shapes(part, layout), strict=True)):
        same = alike[mark, block.cut]
        known = next((one for one in same if one.is_like(outside, inside)), None)
        if known is None:
            same.append(known := _Alike(laid, outside, inside, []))
        known.blocks.append((number, block))
    first_up = sorted(alike, key=lambda key: (alike[key][0].blocks[0][1].course, _number(numbers.get(key))))
    return [
        one.named(_name(numbers.get(key, key[0]), index, len(alike[key])), *key)
        for key in first_up
        for index, one in enumerate(alike[key])
    ]


_MOST_CORNERS: Final = 4
"""Of a face before openings, unless it is round."""


@dataclass(frozen=True)
class _Alike:
    """Blocks out of one mark by one cut whose corners are alike, each with its number in the layout."""

    laid: Shape
    outside: Face
    inside: Face
    blocks: list[tuple[int, Laid]]

    def named(self, name: str, mark: str, cut: str) -> DomePiece:
        cast = self.blocks[0][1].shape
        by_course = dict(Counter(block.course for _, block in self.blocks))
        is_round = len(self.outside.outline) > _MOST_CORNERS
        which = tuple(number for number, _ in self.blocks)
        return DomePiece(name, mark, cast, cut, self.laid, self.outside, self.inside, by_course, which, is_round)

    def is_like(self, outside: Face, inside: Face) -> bool:
        return _alike(self.outside, outside) and _alike(self.inside, inside)


def _shapes(part: DomePart, layout: DomeLayout) -> Iterator[tuple[Shape, Face, Face]]:
    for spot in layout.spots:
        yield (spot.shape, *faces(spot, part.openings))
    for block in layout.blocks[len(layout.spots) :]:
        yield (block.shape, *crown_faces(layout.crown))


def _alike(one: Face, other: Face) -> bool:
    outlines = ((one.outline, *one.taken), (other.outline, *other.taken))
    return [*map(len, outlines[0])] == [*map(len, outlines[1])] and all(
        math.dist(a, b) <= _ALIKE_MM
        for first, second in zip(*outlines, strict=True)
        for a, b in zip(first, second, strict=True)
    )


def _name(stem: str, index: int, of: int) -> str:
    """Several that are told by the same words get a letter each."""
    return f"{stem}{_LETTERS[index % len(_LETTERS)]}" if of > 1 else stem


def _number(name: str | None) -> int:
    return int(name[1:]) if name else 0
