"""The pieces of a wall that are sawn to a slope: each once, with the true shape of its face."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.order.domes.faces import Face
from blockrun.order.marks import Kind, kind_of
from blockrun.order.parts import layout_of, letter_of
from blockrun.order.walls import WallLayout
from blockrun.order.walls.cut import is_skew, is_sloped
from blockrun.show.pictures.wall_names import WallNames

if TYPE_CHECKING:
    from blockrun.order import WallPart
    from blockrun.order.laid import Laid
    from blockrun.order.shape import Shape


@dataclass(frozen=True)
class WallPiece:
    """One piece of a wall, as often as it is laid.

    Parameters
    ----------
    name : ``x8``, by which the elevations tell it.
    mark, cast : of the block it comes out of.
    cut : what is sawn off, in words.
    face : seen as in the elevation: mm to the right of its middle, and up from its lower edge.
    by_course : how many of them each course has.
    """

    name: str
    mark: str
    cast: Shape
    cut: str
    face: Face
    by_course: Mapping[int, int]

    @property
    def count(self) -> int:
        """How many there are in the wall."""
        return sum(self.by_course.values())


def wall_pieces(part: WallPart, marks: Mapping[Kind, str]) -> list[WallPiece]:
    """Pieces of a wall whose top follows a slope, by their numbers.

    Left out are those with skew ends too: their two faces differ, and the angle in the take-off sets the saw.
    """
    layout = layout_of(part)
    assert isinstance(layout, WallLayout)
    names = WallNames(layout, lambda block: marks[kind_of(letter_of(part), block)])
    alike: dict[tuple[str, str], list[Laid]] = {}
    for block in layout.blocks:
        if is_sloped(block.cut) and not is_skew(block.cut) and block.cut in names.sawn:
            alike.setdefault((names.mark(block), block.cut), []).append(block)
    pieces = [
        WallPiece(names.sawn[cut], mark, same[0].shape, cut, _face(same[0]), Counter(block.course for block in same))
        for (mark, cut), same in alike.items()
    ]
    return sorted(pieces, key=lambda piece: int(piece.name[1:]))


def _face(block: Laid) -> Face:
    alongs, low = [along for along, _ in block.corners], min(up for _, up in block.corners)
    middle = (min(alongs) + max(alongs)) / 2
    return Face(tuple((along - middle, up - low) for along, up in block.corners))
