"""A drawing as an order file names it, and the walls it stands for."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path, PurePath
from typing import Annotated, Final, Literal, Self

from pydantic import Field, PrivateAttr, ValidationInfo, model_validator

from blockrun.errors import BadInput
from blockrun.files.text import References, read_bytes
from blockrun.order.drawings.build import build_walls
from blockrun.order.drawings.dxf import MM_IN, read_dxf
from blockrun.order.drawings.ifc import read_ifc
from blockrun.order.drawings.sketch import Sketch
from blockrun.order.walls.part import HowLaid, Length, Place, WallPart
from blockrun.site.fields import Name, one_of
from blockrun.site.file_model import FileModel
from blockrun.site.written import Named

_FORMATS: Final = (".dxf", ".ifc")


@dataclass(frozen=True)
class DrawnFile:
    """A drawing: how the order file names it, and where it lies."""

    reference: str
    path: Path = field(compare=False)


def _find(reference: str, info: ValidationInfo) -> DrawnFile:
    if not isinstance(info.context, References):
        raise BadInput(f"{reference} is named outside a file", "Build a WallPart of each wall.")
    path = info.context.find(reference)
    read_bytes(path)
    if _format(reference) not in _FORMATS:
        todo = "Save it as DXF or IFC 4, with a name such as house.dxf."
        raise BadInput(f"{reference} is no drawing that is read here", todo, value=reference)
    return DrawnFile(reference, path)


def _format(reference: str) -> str:
    return PurePath(reference).suffix.lower()


class DrawnOpening(FileModel):
    """Measures of the openings that one block of a drawing stands for; they come before those in the drawing."""

    name: Name = Field(alias="opening", examples=["DOOR"], description="Name of the block in the drawing")
    sill_mm: Place | None = Field(default=None, description="From the floor to its sill, 0 m for a door; a length")
    width_mm: Length | None = Field(default=None, description="Between the jambs; a length")
    height_mm: Length | None = Field(default=None, description="From its sill to its head; a length")


class DrawingPart(HowLaid):
    """Walls taken from a drawing.

    Closed polylines on the layer are walls, seen from above: a rectangle or a run of constant width by its centre line;
    one inside the other, a block's thickness apart, the two faces of a building; one alone that is wider than any wall
    the outside of a building. A polyline drawn with a width is the centre line of walls. Walls whose ends meet are
    bonded at the corner, and walls that meet a building square from inside in a T; any other stands by itself.

    Of an IFC file the walls that are straight, upright and of one thickness and height are taken, with their openings.
    """

    file: Annotated[DrawnFile, Named("a drawing", "house.dxf", DrawnFile, _find)] = Field(
        alias="drawing", description="A DXF file with the walls seen from above, or an IFC 4 file"
    )
    name: Name | None = Field(
        default=None, examples=["house"], description="What to call its walls; the file's name unless told"
    )
    layer: Name | None = Field(
        default=None,
        examples=["walls"],
        description="The layer its walls are on; in an IFC file the storey, all of them unless told",
    )
    unit: Annotated[Literal["mm", "cm", "m", "in", "ft"], one_of(*MM_IN)] | None = Field(
        default=None, description="Of the lengths of a DXF file; the one it says itself unless told"
    )
    height_mm: Length | None = Field(
        default=None, description="From the floor to the top of its walls; an IFC file says it itself; a length"
    )
    openings: tuple[DrawnOpening, ...] = Field(
        default=(), description="Doors and windows: blocks of the drawing that do not say their measures themselves"
    )
    _walls: tuple[WallPart, ...] = PrivateAttr(default=())

    @property
    def walls(self) -> tuple[WallPart, ...]:
        """Its walls, as an order would spell them out."""
        return self._walls

    @model_validator(mode="after")
    def _draw(self) -> Self:
        keys = {name: getattr(self, name) for name in HowLaid.model_fields if name in self.model_fields_set}
        if self.height_mm is not None:
            keys["height_mm"] = self.height_mm
        self._walls = build_walls(self._sketches(), self.name or PurePath(self.file.reference).stem, keys)
        return self

    def _sketches(self) -> list[Sketch]:
        if _format(self.file.reference) == ".ifc":
            for key in ("unit", "openings"):
                if getattr(self, key):
                    raise BadInput(f"{key} is said by an IFC file itself", "Take the line out.", name=key)
            return read_ifc(self.file.path, self.layer)
        if self.height_mm is None:
            raise BadInput("height is missing", "Write a line such as height: 2.5 m.", name="height")
        return [read_dxf(self.file.path, self.layer, self.unit, self.openings)]
