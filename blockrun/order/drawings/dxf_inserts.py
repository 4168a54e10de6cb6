"""Blocks inserted in a DXF file that stand for openings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean
from blockrun.order.drawings.plane import Line, Point
from blockrun.order.drawings.sketch import Hole, opening_name, printable
from blockrun.site.values import read_number

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.insert import Insert

    from blockrun.order.drawings.part import DrawnOpening

WALL_LINES: Final = {"LWPOLYLINE", "POLYLINE"}
"""What walls are drawn with."""
_MEASURES: Final = ("width", "height", "sill")
_TEXTS: Final = {"TEXT", "MTEXT", "ATTDEF", "ATTRIB", "DIMENSION", "POINT"}
_MOST_MM: Final = 1_000_000.0
_SOUNDS_LIKE_ONE: Final = ("door", "window", "opening")
"""In the name of a block: without measures it is asked for them, and not passed over."""


def find_inserts(drawing: Drawing, openings: Sequence[DrawnOpening]) -> Iterator[tuple[Insert, DrawnOpening | None]]:
    """The blocks inserted that have measures, are given some by the order, or are called as openings are."""
    told = {opening.name.lower(): opening for opening in openings}
    for insert in _inserts(drawing):
        name = insert.dxf.name.lower()
        is_one = name in told or any(word in name for word in _SOUNDS_LIKE_ONE)
        if is_one or not _attributes(insert).keys().isdisjoint(_MEASURES):
            yield insert, told.get(name)


def walls_within(drawing: Drawing, layer: str, openings: Sequence[DrawnOpening]) -> Iterator[BadInput]:
    """A fault for each block that is no opening and has lines on the layer of the walls, its own or that of the insert.

    Within a block the layer called 0 stands for that of the insert.
    """
    found = {insert.dxf.handle for insert, _ in find_inserts(drawing, openings)}
    for insert in _inserts(drawing):
        block = insert.block()
        if block is None or insert.dxf.handle in found:
            continue
        own = insert.dxf.layer.lower()
        layers = {entity.dxf.layer.lower() for entity in block.query(" ".join(sorted(WALL_LINES)))}
        if layer.lower() in {own if name == "0" else name for name in layers}:
            what = f"{printable(f'block {insert.dxf.name} ({insert.dxf.handle})')} has walls within it"
            todo = "Explode it, so that its lines are in the drawing itself, or put it on another layer."
            yield BadInput(what, todo, name="drawing")


def unused(drawing: Drawing, openings: Sequence[DrawnOpening]) -> Iterator[BadInput]:
    """A fault for each opening of the order that the drawing does not have."""
    names = {printable(insert.dxf.name) for insert in _inserts(drawing)}
    for index, opening in enumerate(openings):
        if opening.name.lower() not in {name.lower() for name in names}:
            todo = did_you_mean(opening.name, names) if names else "Insert it in the drawing, or take this out."
            fault = BadInput(f"the drawing has no block {opening.name} in it", todo, name="opening")
            fault.within = ("openings", index)
            yield fault


def read_insert(insert: Insert, told: DrawnOpening | None, scale: float) -> Hole:
    """An opening in mm.

    Parameters
    ----------
    told : measures of the order, which come before those in the drawing.
    scale : mm in a unit of the drawing.

    Raises
    ------
    BadInput : a measure is missing or makes no sense.
    """
    name = insert.dxf.name
    label = printable(f"block {name} ({insert.dxf.handle}) on layer {insert.dxf.layer}")
    written = _attributes(insert)
    width, height, sill = (_measure(key, written.get(key), told, label, scale) for key in _MEASURES)
    x, y, _ = insert.ocs().to_wcs(insert.dxf.get("insert") or (0, 0, 0))
    at = (x * scale, y * scale)
    drawn = tuple((x * scale, y * scale) for x, y in _drawn(insert)) or (at,)
    return Hole(label, opening_name(name), at, drawn, width, height, sill)


def _inserts(drawing: Drawing) -> Iterator[Insert]:
    """Every block inserted that shows, rows of them one by one."""
    hidden = {layer.dxf.name.lower() for layer in drawing.layers if layer.is_off() or layer.is_frozen()}
    inserts: Iterable[Insert] = drawing.modelspace().query("INSERT")
    for insert in inserts:
        if insert.dxf.layer.lower() not in hidden and not insert.dxf.get("invisible", 0):
            for one in insert.multi_insert() if insert.mcount > 1 else (insert,):
                one.dxf.handle = insert.dxf.handle
                yield one


def _attributes(insert: Insert) -> dict[str, str]:
    """What is written at an insert, and what its block has for good."""
    block = insert.block()
    lasting = [attribute for attribute in block.attdefs() if attribute.is_const] if block else []
    own = [attribute for attribute in insert.attribs if attribute.is_alive]
    return {attribute.dxf.tag.lower(): attribute.dxf.text.strip() for attribute in (*lasting, *own)}


def _measure(key: str, written: str | None, told: DrawnOpening | None, label: str, scale: float) -> float:
    own: float | None = getattr(told, f"{key}_mm", None)
    if own is not None:
        return own
    if not written:
        todo = (
            f"Give the block an attribute {key.upper()}, or write its {key} under openings: of this drawing, "
            "or take it out."
        )
        raise BadInput(f"{label}: its {key} is missing", todo, name="drawing")
    try:
        measure = float(read_number(written)) * scale
    except BadInput as fault:
        raise BadInput(f"{label}: {key.upper()}: {printable(fault.what)}", fault.todo, name="drawing") from None
    if not (0 <= measure <= _MOST_MM) or (measure == 0 and key != "sill"):
        todo = "Correct it in the drawing; attributes are in the unit of the drawing."
        raise BadInput(f"{label}: {printable(written)} is no {key} of an opening", todo, name="drawing", value=written)
    return measure


def _drawn(insert: Insert) -> Line:
    """Points of the lines that the block is drawn with, where it is inserted."""
    from ezdxf import disassemble

    lines = (entity for entity in insert.virtual_entities() if entity.dxftype() not in _TEXTS)
    primitives = disassemble.to_primitives(disassemble.recursive_decompose(lines))
    points: list[Point] = [(place.x, place.y) for place in disassemble.to_vertices(primitives)]
    return tuple(points)
