"""Pictures of walls and domes as pages among others, as `blockrun takeoff` draws them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from blockrun.order import WallPart
from blockrun.show.cautions import SHORT
from blockrun.show.paper.press import Picture, Sheet
from blockrun.show.pictures.of_order import pictures_of_part

if TYPE_CHECKING:
    from blockrun.order import DomePart
    from blockrun.order.marks import Kind
    from blockrun.site import MouldKind


def picture_sheets(
    part: WallPart | DomePart, moulds: Sequence[MouldKind], marks: Mapping[Kind, str], units: str, but: str = "none"
) -> Iterator[Sheet]:
    """A page for each picture of a part.

    Parameters
    ----------
    but : pictures whose title ends so are left out.
    """
    for title, svg in pictures_of_part(part, moulds, marks, units=units):
        if not title.endswith(but):
            yield Sheet(
                "picture",
                {"title": title, "svg": Picture(svg), "sideways": isinstance(part, WallPart), "cautions": SHORT},
            )
