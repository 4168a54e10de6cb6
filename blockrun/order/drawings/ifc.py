"""The walls and openings of an IFC 4 file."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean, read_bytes
from blockrun.order.drawings.plane import CLOSE_MM, Line, beside, cross, dot, minus, move, tidy, unit
from blockrun.order.drawings.sketch import Hole, Outline, Sketch, opening_name, printable
from blockrun.order.drawings.solids import Solid, solid_of
from blockrun.order.drawings.strips import centre_line

if TYPE_CHECKING:
    import ifcopenshell

_AGAIN: Final = "Open it in the program it is from and export it as IFC 4 again."
_MM_IN_A_METRE: Final = 1000.0
_GRAIN: Final = 1
Entity = Any
Bodies = Callable[[Entity, str], Solid]


def read_ifc(path: Path, storey: str | None) -> list[Sketch]:
    """What an IFC file says of walls: a sketch for those of each floor and height, from the lowest.

    Parameters
    ----------
    storey : name of the storey whose walls are read; None for all.

    Raises
    ------
    BadInput : with every fault; its name is the key of the order that it is about.
    """
    model = _open(path)
    body_of = _bodies()
    found: list[tuple[Solid, Outline, list[Hole]]] = []
    faults: list[BadInput] = []
    for wall in _walls(model, storey):
        try:
            label = _label("wall", wall)
            body = body_of(wall, label)
            line, outline = _footprint(body, label)
            found.append((body, outline, list(_holes(wall, body, line, body_of))))
        except BadInput as fault:
            faults.append(fault)
    if faults:
        raise BadInput.of(faults)
    return _floors(found)


def _floors(walls: Sequence[tuple[Solid, Outline, list[Hole]]]) -> list[Sketch]:
    """A sketch for the walls of each floor and height, those a hair apart together, from the lowest."""
    floors: dict[tuple[float, float], tuple[list[Outline], list[Hole]]] = {}
    for body, outline, holes in walls:
        level = (round(body.low, _GRAIN), round(body.high, _GRAIN))
        near = next((floor for floor in floors if math.dist(floor, level) <= CLOSE_MM), level)
        outlines, openings = floors.setdefault(near, ([], []))
        outlines.append(outline)
        openings.extend(holes)
    by_height = sorted(floors.items(), key=lambda floor: (floor[0][0], floor[0][1] - floor[0][0]))
    return [
        Sketch(tuple(outlines), tuple(holes), round(high - low, _GRAIN)) for (low, high), (outlines, holes) in by_height
    ]


def _open(path: Path) -> ifcopenshell.file:
    try:
        import ifcopenshell
    except ImportError:
        todo = "Run: pip install 'blockrun[drawings]'"
        raise BadInput("what reads IFC files is not installed", todo, name="drawing") from None
    _refuse_cut_off(path)
    try:
        model = ifcopenshell.open(str(path))
    except (OSError, RuntimeError, ifcopenshell.Error) as error:
        raise BadInput(f"{path.name} cannot be read as IFC: {error}", _AGAIN, name="drawing") from None
    if not model.schema.startswith("IFC4"):
        raise BadInput(f"{path.name} is {model.schema}, and IFC4 is due", "Export it as IFC 4.", name="drawing")
    units = [unit for assigned in model.by_type("IfcUnitAssignment") for unit in assigned.Units or ()]
    if not any(getattr(unit, "UnitType", "") == "LENGTHUNIT" for unit in units):
        what = "the drawing does not say the unit of its lengths"
        raise BadInput(what, "Export it again with a unit for lengths.", name="drawing")
    return model


def _refuse_cut_off(path: Path) -> None:
    """Refuse what is not a whole file: on such the library may end the program, not just fail.

    Raises
    ------
    BadInput : the first and last lines of ISO 10303-21 are not there.
    """
    content = read_bytes(path)
    if not content.lstrip().startswith(b"ISO-10303-21;") or not content.rstrip().endswith(b"END-ISO-10303-21;"):
        raise BadInput(f"{path.name} cannot be read as IFC: it is not a whole file", _AGAIN, name="drawing")


def _bodies() -> Bodies:
    """What works out the body of an entity, in mm, openings not taken out of it."""
    import ifcopenshell.geom

    settings = ifcopenshell.geom.settings()  # type: ignore[no-untyped-call]
    for setting in ("use-world-coords", "disable-opening-subtractions"):
        settings.set(setting, True)

    def body(entity: Entity, label: str) -> Solid:
        try:
            numbers = [_MM_IN_A_METRE * metres for metres in _corners(settings, entity)]
        except RuntimeError:
            numbers = []
        if not numbers:
            raise BadInput(f"{label} has no body", "Export it with its geometry, or take it out.", name="drawing")
        return solid_of(list(zip(numbers[::3], numbers[1::3], numbers[2::3], strict=True)))

    return body


def _corners(settings: Any, entity: Entity) -> tuple[float, ...]:
    import ifcopenshell.geom

    shape: Any = ifcopenshell.geom.create_shape(settings, entity)
    return tuple(shape.geometry.verts)


def _walls(model: ifcopenshell.file, storey: str | None) -> list[Entity]:
    """The walls of a storey, or all.

    Raises
    ------
    BadInput : there are none.
    """
    from ifcopenshell.util.element import get_container

    walls = sorted(model.by_type("IfcWall"), key=lambda wall: wall.id())
    if not walls:
        raise BadInput("the drawing has no walls", "Export its walls as IfcWall.", name="drawing")
    if storey is None:
        return walls
    homes = [(wall, getattr(get_container(wall), "Name", None)) for wall in walls]
    found = [wall for wall, home in homes if home == storey]
    if not found:
        names = {home for _, home in homes if home}
        todo = did_you_mean(storey, names) if names else "Take the line out: its walls are on no storey."
        raise BadInput(f"the drawing has no walls on a storey {storey}", todo, name="layer")
    return found


def _label(kind: str, entity: Entity) -> str:
    """What to call an entity: its name and its number in the file."""
    return f"{kind} {printable(entity.Name)} (#{entity.id()})" if entity.Name else f"{kind} #{entity.id()}"


def _footprint(body: Solid, label: str) -> tuple[Line, Outline]:
    """The centre line of a wall and its outline, squared where its ends are mitred."""
    strip = centre_line(body.plan) if body.is_upright else None
    if strip is None:
        what = f"{label} is not straight, of one thickness and of one height"
        raise BadInput(what, "Draw it so, or take it out and write it as a wall of the order.", name="drawing")
    width, line = strip
    right, left = (beside(line, by, closed=False) for by in (-width / 2, width / 2))
    return line, Outline(label, tidy((*right, *reversed(left))), is_wall=True)


def _holes(wall: Entity, body: Solid, line: Line, body_of: Bodies) -> Iterator[Hole]:
    """The openings that go through a wall."""
    for relation in wall.HasOpenings:
        element = relation.RelatedOpeningElement
        label = f"{_label('opening', element)} of {_label('wall', wall)}"
        yield _hole(body_of(element, label), body, line, label, opening_name(element.Name))


def _hole(hole: Solid, wall: Solid, line: Line, label: str, name: str) -> Hole:
    way = unit(line[0], line[-1])
    places = [dot(way, point) for point in hole.plan]
    near, far = min(places), max(places)
    at = move(line[0], way, (near + far) / 2 - dot(way, line[0]))
    _refuse_recess(hole, wall, line, label)
    sill = hole.low - wall.low
    sill = 0.0 if sill < CLOSE_MM else sill
    head = min(hole.high, wall.high) - wall.low
    if head <= sill:
        raise BadInput(f"{label} is above or below it", "Move it, or take it out.", name="drawing")
    return Hole(label, name, at, hole.plan, far - near, head - sill, sill)


def _refuse_recess(hole: Solid, wall: Solid, line: Line, label: str) -> None:
    """Refuse an opening that does not go from one face of its wall to the other.

    Raises
    ------
    BadInput : saying so.
    """
    way = unit(line[0], line[-1])
    across, faces = ([cross(way, minus(point, line[0])) for point in plan] for plan in (hole.plan, wall.plan))
    if min(across) >= max(faces) or max(across) <= min(faces):
        raise BadInput(f"{label} lies beside it", "Move it, or take it out.", name="drawing")
    if min(across) > min(faces) + CLOSE_MM or max(across) < max(faces) - CLOSE_MM:
        todo = "Take it out and carve it on the site, or make it go through."
        raise BadInput(f"{label} does not go through it", todo, name="drawing")
