"""All pictures of an order's walls and domes, and a page that shows and prints them one after the other."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.order.domes import DomeLayout, DomePart
from blockrun.order.laid import Laid
from blockrun.order.marks import Kind, kind_of
from blockrun.order.model import ListPart
from blockrun.order.parts import layout_of, letter_of, marks_of
from blockrun.order.walls import WallLayout, WallPart
from blockrun.show.pictures.dome_developed import developed_view
from blockrun.show.pictures.dome_section import section_view
from blockrun.show.pictures.dome_table import dome_table
from blockrun.show.pictures.paper import INDEX, render
from blockrun.show.pictures.wall_names import WallNames
from blockrun.show.pictures.wall_plan import wall_plan
from blockrun.show.pictures.wall_sizes import wall_sizes
from blockrun.show.pictures.walls import wall_pictures

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.site import MouldKind

STRENGTH: Final = (
    "Strength is not promised: lintels, the openings of domes and what ties them are for a licensed engineer and the "
    "local code."
)


def order_pictures(order: Order, moulds: Sequence[MouldKind], *, units: str) -> dict[str, str]:
    """Pictures of every wall and dome of an order.

    Returns
    -------
    Text of each file by its name: of each wall a plan of its outline, if it has one, and an elevation of each face;
    of each dome a developed view, a section and a table for setting out; and the page that shows them all. Empty where
    the order has lists only.
    """
    marks = marks_of(order, moulds)
    pictures: dict[str, str] = {}
    for part in order.parts:
        if not isinstance(part, ListPart):
            for title, picture in pictures_of_part(part, moulds, marks, units=units):
                pictures[_file_name(title, pictures)] = picture
    if pictures:
        files = list(pictures)
        heading, sideways = f"{order.name}: walls and domes", [file for file in files if file.startswith("wall-")]
        pictures[INDEX] = render(
            "pictures.html.jinja", heading=heading, caution=STRENGTH, files=files, sideways=sideways
        )
    return pictures


def _caller(marks: Mapping[Kind, str], letter: str) -> Callable[[Laid], str]:
    return lambda block: marks[kind_of(letter, block)]


def pictures_of_part(
    part: WallPart | DomePart, moulds: Sequence[MouldKind], marks: Mapping[Kind, str], *, units: str
) -> Iterator[tuple[str, str]]:
    """Title and SVG of each picture of a wall or a dome."""
    layout, called = layout_of(part, tuple(moulds)), _caller(marks, letter_of(part))
    if isinstance(layout, WallLayout):
        names = WallNames(layout, called)
        if isinstance(part, WallPart) and part.outline:
            yield f"Wall {part.name}: from above", wall_plan(part, units=units)
        for face in layout.faces:
            title = f"Wall {part.name}" if face.name == part.name else f"Wall {part.name}, {face.name}"
            for picture in wall_pictures(layout, face, names, title, units=units):
                yield title, picture
        title = f"Wall {part.name}: notes and sizes"
        for picture in wall_sizes(layout, names, title, units=units):
            yield title, picture
    elif isinstance(layout, DomeLayout) and isinstance(part, DomePart):
        for picture in developed_view(part, layout, called, units=units):
            yield f"Dome {part.name}, laid flat", picture
        yield f"Dome {part.name}, section", section_view(part, layout, units=units)
        yield f"Dome {part.name}, setting out", dome_table(part, layout, units=units)


def _file_name(title: str, taken: Mapping[str, str]) -> str:
    """The title as a file may be called, with a number where there is one of that name."""
    stem = re.sub(r"[^\w]+", "-", title.lower()).strip("-")
    names = (f"{stem}.svg" if number == 1 else f"{stem}-{number}.svg" for number in range(1, len(taken) + 2))
    return next(name for name in names if name not in taken)
