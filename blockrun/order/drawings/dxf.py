"""The walls and openings of a DXF file."""

from __future__ import annotations

import logging
import math
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeAlias, TypeVar

from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean
from blockrun.order.drawings.dxf_inserts import WALL_LINES, find_inserts, read_insert, unused, walls_within
from blockrun.order.drawings.plane import Line, Point, beside, tidy
from blockrun.order.drawings.sketch import Outline, Sketch, printable

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dxfgfx import DXFGraphic
    from ezdxf.entities.lwpolyline import LWPolyline
    from ezdxf.entities.polyline import Polyline

    from blockrun.order.drawings.part import DrawnOpening

    AnyPolyline: TypeAlias = LWPolyline | Polyline

MM_IN: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
_OF_THE_HEADER: Final = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""Codes of $INSUNITS: DXF reference, header variables."""
_LOOSE: Final = {"LINE": "line", "MLINE": "line", "ARC": "arc", "CIRCLE": "circle", "ELLIPSE": "ellipse",
                 "SPLINE": "spline"}  # fmt: skip
_SILENT: Final = logging.NullHandler()
"""What the library logs of a file that it could mend is not for the screen."""
_TINY: Final = 1e-6
_GRAIN: Final = 9

Given = TypeVar("Given")
Made = TypeVar("Made")


def read_dxf(path: Path, layer: str | None, unit: str | None, openings: Sequence[DrawnOpening]) -> Sketch:
    """What a DXF file says of walls.

    Parameters
    ----------
    layer : the one its walls are on.
    unit : of its lengths, a key of MM_IN; None for what its header says.
    openings : measures of blocks that stand for openings.

    Raises
    ------
    BadInput : with every fault; its name is the key of the order that it is about.
    """
    drawing = _open(path)
    scale = MM_IN[unit or _unit_of(drawing)]
    faults = list(walls_within(drawing, layer, openings)) if layer else []
    if faults:
        raise BadInput.of(faults)
    outlines = _each(on_layer(drawing, layer), lambda entity: _outlines(entity, scale), faults)
    holes = _each(find_inserts(drawing, openings), lambda one: read_insert(*one, scale), faults)
    faults.extend(unused(drawing, openings))
    if faults:
        raise BadInput.of(faults)
    return Sketch(tuple(outline for some in outlines for outline in some), tuple(holes))


def _each(given: Iterable[Given], read: Callable[[Given], Made], faults: list[BadInput]) -> list[Made]:
    """Everything read; what cannot be is added to the faults."""
    made: list[Made] = []
    for one in given:
        try:
            made.append(read(one))
        except BadInput as fault:
            faults.append(fault)
    return made


def _open(path: Path) -> Drawing:
    try:
        from ezdxf import recover
        from ezdxf.lldxf.const import DXFError
    except ImportError:
        todo = "Run: pip install 'blockrun[drawings]'"
        raise BadInput("what reads DXF files is not installed", todo, name="drawing") from None
    logging.getLogger("ezdxf").addHandler(_SILENT)
    try:
        drawing, _ = recover.readfile(path)
    except (OSError, DXFError, ValueError, LookupError, TypeError, AttributeError) as error:
        todo = "Open it in a drawing program and save it as DXF again."
        raise BadInput(f"{path.name} cannot be read as DXF: {printable(str(error))}", todo, name="drawing") from None
    return drawing


def _unit_of(drawing: Drawing) -> str:
    unit = _OF_THE_HEADER.get(drawing.units)
    if unit is None:
        raise BadInput(
            "the drawing does not say the unit of its lengths", "Write unit: mm, cm, m, in or ft.", name="unit"
        )
    return unit


def on_layer(drawing: Drawing, layer: str | None) -> list[DXFGraphic]:
    """What walls may be drawn with on a layer.

    Raises
    ------
    BadInput : nothing of it is there.
    """
    drawn: dict[str, list[DXFGraphic]] = {}
    for entity in drawing.modelspace():
        if entity.is_alive and entity.dxf.is_supported("layer"):
            drawn.setdefault(printable(entity.dxf.layer), []).append(entity)
    if layer is None:
        todo = f"Write layer: with one of {', '.join(sorted(drawn))}."
        raise BadInput("the layer of the walls is missing", todo, name="layer")
    found = [entity for name, own in drawn.items() if name.lower() == layer.lower() for entity in own]
    if not found:
        todo = did_you_mean(layer, drawn) if drawn else "Draw its walls in the model space."
        raise BadInput(f"the drawing has nothing on a layer {layer}", todo, name="layer")
    walls = [entity for entity in found if entity.dxftype() in {*WALL_LINES, *_LOOSE}]
    if not walls:
        todo = "Draw each wall as a closed polyline, or name another layer."
        raise BadInput(f"no polylines are on layer {layer}", todo, name="layer")
    return walls


def _outlines(entity: DXFGraphic, scale: float) -> list[Outline]:
    """The outlines that one entity draws: one, or the two faces of a closed line with a width."""
    kind = _LOOSE.get(entity.dxftype(), "polyline")
    label = printable(f"{kind} {entity.dxf.handle} on layer {entity.dxf.layer}")
    if kind != "polyline":
        todo = "Draw the wall as a closed polyline of straight lines, or put this on another layer."
        raise BadInput(f"{label} is no polyline", todo, name="drawing")
    polyline: AnyPolyline = entity  # type: ignore[assignment]
    if polyline.has_arc:
        what = f"{label} has an arc in it, and walls are laid straight"
        raise BadInput(what, "Draw it with straight lines.", name="drawing")
    points, closed = _points(polyline)
    widths = _widths(polyline, closed=closed)
    if len(widths) > 1:
        what = f"{label} is not everywhere of one width"
        raise BadInput(what, "Draw it with one width, or round the wall.", name="drawing")
    lines = [tidy(ring, scale) for ring in _rings(points, *widths, closed=closed)]
    if not lines:
        todo = "Close it, or give it a width if it is the centre line of a wall."
        raise BadInput(f"{label} is not closed", todo, name="drawing")
    if not all(lines):
        raise BadInput(f"{label} encloses nothing", "Draw it anew, or take it out.", name="drawing")
    return [Outline(label if number == 1 else f"{label}, inside", line) for number, line in enumerate(lines, 1)]


def _points(polyline: AnyPolyline) -> tuple[Line, bool]:
    """Its points, none twice in a row, and whether it comes back to its start."""
    is_light = polyline.dxftype() == "LWPOLYLINE"
    places = polyline.vertices_in_wcs() if is_light else polyline.points_in_wcs()  # type: ignore[union-attr]
    points: list[Point] = []
    for place in places:
        if not points or math.dist((place.x, place.y), points[-1]) > _TINY:
            points.append((place.x, place.y))
    if len(points) > 1 and math.dist(points[0], points[-1]) <= _TINY:
        return tuple(points[:-1]), True
    return tuple(points), polyline.is_closed


def _widths(polyline: AnyPolyline, *, closed: bool) -> set[float]:
    """The widths it is drawn with; nought where it has none."""
    if polyline.dxftype() == "LWPOLYLINE":
        whole = float(polyline.dxf.get("const_width", 0.0))
        pairs = [(whole, whole)] if whole else list(polyline.get_points("se"))  # type: ignore[union-attr]
    else:
        usual = polyline.dxf.get("default_start_width", 0.0), polyline.dxf.get("default_end_width", 0.0)
        vertices = [vertex.dxf for vertex in polyline.vertices]  # type: ignore[union-attr]
        pairs = [(one.get("start_width", usual[0]), one.get("end_width", usual[1])) for one in vertices]
    lines = pairs if closed or len(pairs) == 1 else pairs[:-1]
    return {round(float(width), _GRAIN) for pair in lines for width in pair} or {0.0}


def _rings(points: Line, width: float, *, closed: bool) -> list[Line]:
    """Closed lines round what is drawn, the outer one first; none where nothing is enclosed."""
    if width and len(points) > 1:
        right, left = (beside(points, by, closed=closed) for by in (-width / 2, width / 2))
        return sorted((right, left), key=_reach, reverse=True) if closed else [(*right, *reversed(left))]
    return [points] if closed and len(points) > 2 else []


def _reach(line: Line) -> float:
    """Half the way round the box about a line."""
    xs, ys = zip(*line, strict=True)
    return float(max(xs) - min(xs) + max(ys) - min(ys))
