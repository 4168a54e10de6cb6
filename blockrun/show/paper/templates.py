"""Full-size templates of pieces of domes and of slopes: faces in their true size, over several sheets where larger."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final

from blockrun.order import WallPart
from blockrun.order.domes import DomePart
from blockrun.order.domes.clip import Point
from blockrun.order.parts import marks_of
from blockrun.show.cautions import DUST
from blockrun.show.paper.dome_pieces import DomePiece, dome_pieces
from blockrun.show.paper.face_drawing import FaceDrawing
from blockrun.show.paper.face_words import FaceWords
from blockrun.show.paper.press import Sheet
from blockrun.show.paper.tiles import Window
from blockrun.show.paper.wall_pieces import WallPiece, wall_pieces
from blockrun.show.tape import size_on_tape
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.paper.asked import Asked

UPRIGHT: Final = Window(190.0, 219.0)
SIDEWAYS: Final = Window(259.0, 150.0, sideways=True)
"""Room that A4 and Letter both have, less margins, the words above a drawing and the bar under it; so that templates
are the same on either. `template.typ` keeps the rest of the page out of it."""
_BETWEEN_MM: Final = 4.0
_PRINT: Final = (
    "Print in true size (100 %), never fitted to the page. On each sheet the bar must be 100 mm long, or 4 in, by your"
    " own tape; if not, print again.",
    "Where a face takes several sheets, lay them so that their crosses lie on one another, and tape them together.",
)
HOW: Final = (
    *_PRINT,
    "Write outside and top on the block, and draw its middle round all four sides with a square.",
    "Lay the template on with its middle on that line and its dashed lower edge on the lower edge of the block, and"
    " mark it: the outside as you see it from outside the dome, the inside as you see it from inside. A round one lies"
    " with its crossing lines on the middle both ways.",
    "Join the marks of both faces across the other sides, and saw along the lines. What is hatched is sawn away.",
    "A strip thinner than a thumb breaks off: leave it out, and fill its place with mortar and chips.",
    "Saw one, try it dry in its place beside its neighbours, and only then saw the others.",
)


HOW_SLOPES: Final = (
    *_PRINT,
    "Write front and top on the block, and draw its middle on the front with a square.",
    "Lay the template on with its middle on that line and its lower edge on the lower edge of the block, mark it, and"
    " saw square through.",
)


def templates(asked: Asked) -> Iterator[Sheet]:
    """For each dome a list of its pieces, then both faces of each that is not square; of walls those under slopes."""
    order, site = asked.plan.order, asked.plan.site
    marks = marks_of(order, site.moulds)
    for part in order.parts:
        if isinstance(part, DomePart):
            yield from templates_of(part, dome_pieces(part, site.moulds, marks), site.units)
        elif isinstance(part, WallPart):
            yield from templates_of_slopes(part, wall_pieces(part, marks), site.units)


def templates_of(part: DomePart, pieces: Sequence[DomePiece], units: str) -> Iterator[Sheet]:
    """The list of a dome's pieces, and the templates of those that need one."""
    yield Sheet("templates", _list(part, pieces, units))
    for piece in pieces:
        if not piece.is_box:
            yield Sheet("template", _template(part, piece, units))


def templates_of_slopes(part: WallPart, pieces: Sequence[WallPiece], units: str) -> Iterator[Sheet]:
    """The list of a wall's pieces that are sawn to a slope, and their templates; nothing where there are none."""
    if not pieces:
        return
    rows = [_row(piece, f"{part.name}/{piece.name}/{piece.mark}", units) | {"how": piece.cut} for piece in pieces]
    title = f"Wall {part.name}: templates of its slopes"
    yield Sheet("templates", {"title": title, "how": list(HOW_SLOPES), "caution": DUST, "rows": rows})
    for piece, row in zip(pieces, rows, strict=True):
        cast = [(x * piece.cast.length_mm / 2, y * piece.cast.height_mm) for x, y in ((-1, 0), (1, 0), (1, 1), (-1, 1))]
        drawing = FaceDrawing(piece.face, cast)
        words = FaceWords(piece.name, (f"out of {piece.mark}", f"{piece.count} of them"), units)
        face = {"face": "front", "seen": "seen as in the elevation", **drawing.on([UPRIGHT, SIDEWAYS], words)}
        said = [f"out of a block {piece.mark}, {row['size']}", f"{counted(piece.count, 'piece')}, {row['courses']}"]
        about = {"name": piece.name, "key": row["key"], "of": f"wall {part.name}", "said": said}
        yield Sheet("template", about | {"together": False, "faces": [face]})


def _list(part: DomePart, pieces: Sequence[DomePiece], units: str) -> dict[str, Any]:
    return {
        "title": f"Dome {part.name}: templates in true size",
        "how": list(HOW),
        "caution": DUST,
        "rows": [
            _row(piece, "" if piece.is_box else _key(part, piece), units) | {"how": _made(piece)} for piece in pieces
        ],
    }


def _row(piece: DomePiece | WallPiece, key: str, units: str) -> dict[str, Any]:
    """What the list says of a piece; by its key it finds the pages."""
    return {
        "name": piece.name, "from": piece.mark, "size": _size(piece, units), "count": piece.count,
        "courses": _courses(piece), "key": key,
    }  # fmt: skip


def _key(part: DomePart, piece: DomePiece) -> str:
    """By which the list finds the pages of a piece."""
    return f"{part.name}/{piece.name}"


def _made(piece: DomePiece) -> str:
    """What is done to a block, and where it has no template why."""
    if not piece.cut:
        return "as cast, square: no template" if piece.is_box else "as cast: to check it by, and the mould"
    return f"{piece.cut}; square: no template" if piece.is_box else piece.cut


def _template(part: DomePart, piece: DomePiece, units: str) -> dict[str, Any]:
    every = {
        "outside": FaceDrawing(piece.outside, _cast(piece, 0.0)),
        "inside": FaceDrawing(piece.inside.mirrored(), _cast(piece, piece.cast.thickness_mm)),
    }
    drawings = {name: drawing for name, drawing in every.items() if drawing.sides}
    together = _fit_together([*drawings.values()])
    gone = [f"nothing is left of the {name} face" for name in every if name not in drawings]
    said = [
        f"out of a block {piece.mark}, {_size(piece, units)}" if piece.cut else f"block {piece.mark} as cast",
        f"{counted(piece.count, 'piece')}, {_courses(piece)}",
        *gone,
    ]
    return {
        "name": piece.name,
        "key": _key(part, piece),
        "of": f"dome {part.name}",
        "said": said,
        "together": together,
        "faces": [
            {"face": name, "seen": f"seen from {name} the dome",
             **drawing.on([Window(UPRIGHT.width_mm, drawing.height_mm)] if together else [UPRIGHT, SIDEWAYS],
                          FaceWords(piece.name, (f"{name.upper()} FACE", f"{piece.count} of them"), units))}
            for name, drawing in drawings.items()
        ],
    }  # fmt: skip


def _fit_together(drawings: Sequence[FaceDrawing]) -> bool:
    """Whether one sheet holds all of them, one under the other."""
    high = sum(drawing.height_mm for drawing in drawings) + _BETWEEN_MM * (len(drawings) - 1)
    return high <= UPRIGHT.height_mm and all(drawing.width_mm <= UPRIGHT.width_mm for drawing in drawings)


def _cast(piece: DomePiece, depth_mm: float) -> list[Point]:
    """The block as it is cast, so far from its outside, on the middle and on the lower edge of what is laid."""
    cast, thick = piece.cast, piece.cast.thickness_mm
    if piece.is_round:
        side = cast.height_mm / 2
        low, high = -side, side
    else:
        low = -thick * _tan(piece.laid.bed_deg) + depth_mm * _tan(cast.bed_deg)
        high = low + cast.height_at_mm(depth_mm)
    foot = depth_mm * _tan(cast.bed_deg)
    bottom, top = (cast.length_at_mm(depth_mm, foot + up) / 2 for up in (0.0, high - low))
    return [(-bottom, low), (bottom, low), (top, high), (-top, high)]


def _size(piece: DomePiece | WallPiece, units: str) -> str:
    return size_on_tape(units, piece.cast.length_mm, piece.cast.height_mm, piece.cast.thickness_mm)


def _courses(piece: DomePiece | WallPiece) -> str:
    numbers = sorted(piece.by_course)
    return f"course {numbers[0]}" if len(numbers) == 1 else f"courses {listed([*map(str, numbers)])}"


def _tan(angle_deg: float) -> float:
    return math.tan(math.radians(angle_deg))
