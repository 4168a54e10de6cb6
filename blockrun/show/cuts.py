"""The cuts that part a slab into its blocks, in the order they are made: each runs from edge to edge of one piece.

A saw follows a line on its far side, so that all lines can be drawn on the whole slab before the first cut, from its
left end and its bottom, and stay where they are whatever is sawn before. What a plan leaves free between blocks is
moved to their far side: they lie as near to the left end and the bottom as the cuts before them let them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from blockrun.site import MouldKind

SPECK_MM: Final = 0.5
"""Nobody saws off less (our choice)."""
_TOUCH_MM: Final = 0.01
OFFCUT: Final = "offcut"


@dataclass(frozen=True)
class Piece:
    """A part of a slab: its place from the left end and the bottom, its extents, in mm; what it is called."""

    left_mm: float
    bottom_mm: float
    length_mm: float
    height_mm: float
    name: str = ""

    def span(self, *, upright: bool) -> tuple[float, float]:
        """From where to where it reaches: along the slab, as upright cuts see it, or up it."""
        if upright:
            return self.left_mm, self.left_mm + self.length_mm
        return self.bottom_mm, self.bottom_mm + self.height_mm

    def moved(self, by_mm: float, *, upright: bool) -> Piece:
        """The piece further along the slab, or further up it."""
        if upright:
            return replace(self, left_mm=self.left_mm + by_mm)
        return replace(self, bottom_mm=self.bottom_mm + by_mm)

    def cut_to(self, low_mm: float, high_mm: float, *, upright: bool) -> Piece:
        """What of it lies between two cuts."""
        if upright:
            return replace(self, left_mm=low_mm, length_mm=high_mm - low_mm)
        return replace(self, bottom_mm=low_mm, height_mm=high_mm - low_mm)


@dataclass(frozen=True)
class Cut:
    """A cut: upright at a distance from the left end, or level at one from the bottom, in mm.

    Attributes
    ----------
    from_mm, to_mm : where it begins and ends: from the bottom where it is upright, else from the left end.
    wide_mm : what the saw takes beyond the line; less than its kerf where the piece ends before.
    frees : names of blocks that are done with it, and offcuts that it takes off.
    """

    upright: bool
    at_mm: float
    from_mm: float
    to_mm: float
    wide_mm: float
    frees: tuple[str, ...]

    @property
    def length_mm(self) -> float:
        """How long it is."""
        return self.to_mm - self.from_mm

    @property
    def dust_mm2(self) -> float:
        """What it turns to dust, as seen from the front."""
        return self.length_mm * self.wide_mm


@dataclass(frozen=True)
class SawnUp:
    """A slab in parts: the cuts in their order, the blocks, and the offcuts, each where it lay in the slab."""

    cuts: tuple[Cut, ...] = ()
    blocks: tuple[Piece, ...] = ()
    offcuts: tuple[Piece, ...] = ()

    def after(self, other: SawnUp) -> SawnUp:
        """Both, the cuts of the other one first."""
        return SawnUp(other.cuts + self.cuts, other.blocks + self.blocks, other.offcuts + self.offcuts)


def saw_up(slab: Piece, kerf_mm: float, blocks: Sequence[Piece]) -> SawnUp | None:
    """The fewest cuts that part a slab into its blocks, and of as few those that are the shortest.

    Parameters
    ----------
    blocks : that lie in it, at least one; each cut leaves all of them whole.

    Returns
    -------
    First cuts right across the slab, from the left or the bottom on, then those of each piece in the same way. None
    where no cuts from edge to edge part the blocks.
    """
    sawn = _fewest(slab, kerf_mm, blocks)
    # blocks that have been moved may let be sawn in the other direction first, with fewer cuts
    while sawn and not _lie_alike(sawn.blocks, blocks):
        blocks = sawn.blocks
        sawn = _fewest(slab, kerf_mm, blocks)
    return sawn


def saw_slab(kind: MouldKind, blocks: Sequence[Piece]) -> SawnUp | None:
    """The same of a slab of a kind of mould."""
    return saw_up(Piece(0.0, 0.0, kind.length_mm, kind.height_mm), kerf_of(kind), blocks)


def kerf_of(kind: MouldKind) -> float:
    """How wide the saw cuts that a slab is sawn by, in mm."""
    return kind.saw.kerf_mm if kind.saw else 0.0


def _lie_alike(some: Sequence[Piece], others: Sequence[Piece]) -> bool:
    """Whether blocks have stayed where they were: moved they only ever are to the left or down."""
    places = (sum(block.left_mm + block.bottom_mm for block in blocks) for blocks in (some, others))
    return abs(next(places) - next(places)) < _TOUCH_MM


def _fewest(slab: Piece, kerf_mm: float, blocks: Sequence[Piece]) -> SawnUp | None:
    """The better of two ways: level cuts right across the slab first, or upright ones."""
    ways = [_parted(slab, kerf_mm, blocks, upright=upright, first=True) for upright in (False, True)]
    return min(
        (way for way in ways if way is not None),
        key=lambda way: (len(way.cuts), sum(cut.length_mm for cut in way.cuts)),
        default=None,
    )


def _parted(
    piece: Piece, kerf_mm: float, blocks: Sequence[Piece], *, upright: bool, first: bool = False
) -> SawnUp | None:
    """Cuts of one direction through a piece, then those of each of its parts; None where it cannot be parted so."""
    parts = list(_parts(piece, kerf_mm, blocks, upright=upright))
    if len(parts) == 1 and not first:
        return SawnUp(blocks=tuple(blocks)) if len(blocks) == 1 else None
    sawn: list[SawnUp] = []
    for part, inside in parts:
        one = _parted(part, kerf_mm, inside, upright=not upright) if inside else _offcut(part, upright=upright)
        if one is None:
            return None
        sawn.append(one)
    whole = SawnUp(tuple(_across(piece, kerf_mm, [part for part, _ in parts], sawn, upright=upright)))
    for one in sawn:
        whole = one.after(whole)
    return whole


Part = tuple[Piece, tuple[Piece, ...]]
"""What lies between two cuts, and the blocks in it; an offcut has none."""


def _parts(piece: Piece, kerf_mm: float, blocks: Sequence[Piece], *, upright: bool) -> Iterator[Part]:
    """Parts of a piece between cuts of one direction, and last what is too much."""
    reached, edge = piece.span(upright=upright)
    for group in _groups(blocks, kerf_mm, upright=upright):
        spans = [block.span(upright=upright) for block in group]
        begins, ends = min(span[0] for span in spans), max(span[1] for span in spans)
        moved = tuple(block.moved(reached - begins, upright=upright) for block in group)
        ends += reached - begins
        yield piece.cut_to(reached, ends, upright=upright), moved
        reached = ends + kerf_mm
    if edge > ends + SPECK_MM:
        yield piece.cut_to(reached, edge, upright=upright), ()


def _groups(blocks: Sequence[Piece], kerf_mm: float, *, upright: bool) -> list[list[Piece]]:
    """Blocks that no cut of a direction parts, from the left or the bottom on."""
    groups: list[list[Piece]] = []
    reached = float("-inf")
    for block in sorted(blocks, key=lambda block: (*block.span(upright=upright), *block.span(upright=not upright))):
        begins, ends = block.span(upright=upright)
        if begins >= reached + kerf_mm - _TOUCH_MM:
            groups.append([])
        groups[-1].append(block)
        reached = max(reached, ends)
    return groups


def _offcut(part: Piece, *, upright: bool) -> SawnUp:
    """What is too much; nothing where the saw makes dust of it."""
    low, high = part.span(upright=upright)
    return SawnUp(offcuts=(replace(part, name=OFFCUT),) if high > low + SPECK_MM else ())


def _across(
    piece: Piece, kerf_mm: float, parts: Sequence[Piece], sawn: Sequence[SawnUp], *, upright: bool
) -> Iterator[Cut]:
    """A cut between each two parts of a piece, with what each of them frees: what needs no cut of its own."""
    start, end = piece.span(upright=not upright)
    edge = piece.span(upright=upright)[1]
    done = [() if one.cuts else tuple(item.name for item in one.blocks + one.offcuts) for one in sawn]
    last = len(parts) - 2
    for number, part in enumerate(parts[:-1]):
        at = part.span(upright=upright)[1]
        frees = done[number] + (done[number + 1] if number == last else ())
        yield Cut(upright, at, start, end, min(kerf_mm, edge - at), frees)
