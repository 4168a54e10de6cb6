"""A wall as an order file describes it."""

from __future__ import annotations

import math
from typing import Annotated, ClassVar, Final, Literal, Self

from pydantic import Field, model_validator

from blockrun import units
from blockrun.errors import BadInput
from blockrun.order.need import Need
from blockrun.order.said import system_of
from blockrun.order.walls.refuse import find_faults
from blockrun.site.fields import Flag, Name, Size, one_of, quantity
from blockrun.site.file_model import FileModel
from blockrun.site.values import read_whole
from blockrun.site.written import Written

EN_1996: Final = "EN 1996-1-1"
EIGHT_INCHES_MM: Final = 8 * 16 * units.SIXTEENTH_MM
LONGEST_MM: Final = 1_000_000.0
Length = Annotated[float, quantity("length", "7.2 m", above=0, most=LONGEST_MM)]
Place = Annotated[float, quantity("length", "1.2 m", least=0, most=LONGEST_MM)]


def _read_overlap(text: str) -> str | float:
    plain = text.strip()
    if plain in ("quarter", EN_1996):
        return plain
    try:
        return units.read(plain, "length", usual="150 mm").value
    except BadInput:
        todo = f"Write quarter, {EN_1996}, or a length such as 150 mm."
        raise BadInput(f"{plain} is no overlap", todo, value=text) from None


def _read_beam(text: str) -> int:
    return 0 if text.strip() == "top" else read_whole(text)


def _read_rise(text: str) -> float:
    try:
        return units.read(text, "length", usual="m").value
    except BadInput as fault:
        try:
            pitch = math.tan(math.radians(units.read(text, "angle", usual="deg").value))
        except BadInput:
            raise fault from None
        what = f"{text.strip()} is an angle, and the rise of the peak is a length"
        todo = f"Write half of the run's length x {pitch:.3f}: over a run of 5 m that is {2.5 * pitch:.2f} m."
        raise BadInput(what, todo, value=text) from None


Rise = Annotated[
    float,
    Written(
        "a length", "1.9 m", _read_rise, {"pattern": units.pattern()}, above=0, most=LONGEST_MM, dimension="length"
    ),
]


class Opening(FileModel):
    """A door, a window or a hatch in a wall."""

    name: Name = Field(examples=["door"], description="What it is called")
    from_mm: Place = Field(description="From the start of the wall, or of its run, to the near jamb; a length")
    sill_mm: Place = Field(description="From the floor to its sill, 0 m for a door; a length")
    width_mm: Length = Field(description="Between the jambs; a length")
    height_mm: Length = Field(description="From its sill to its head; a length")

    @property
    def to_mm(self) -> float:
        """From the start of the run to the far jamb."""
        return self.from_mm + self.width_mm

    @property
    def head_mm(self) -> float:
        """From the floor to its head."""
        return self.sill_mm + self.height_mm


class Top(FileModel):
    """A point of the line a sloped wall ends at."""

    at_mm: Place = Field(description="From the start of the run; a length")
    height_mm: Length = Field(description="Height of the wall there; a length")


class Pier(FileModel):
    """A thickening of the wall on its inside."""

    at_mm: Place = Field(description="From the start of the run to the near side of the pier; a length")
    width_mm: Length = Field(description="Along the wall; a length")
    projection_mm: Length | None = Field(
        default=None,
        description="How thick its blocks are, that of the wall unless told; it stands out a joint more; a length",
    )


class _Straight(FileModel):
    """What every straight run may have."""

    openings: tuple[Opening, ...] = Field(default=(), description="Doors and windows")
    gable_mm: Rise | None = Field(
        default=None, description="A gable: how far its peak, over the middle, is above the height; a length"
    )
    tops: tuple[Top, ...] = Field(default=(), description="A sloped top: heights along the run, from end to end")
    piers: tuple[Pier, ...] = Field(default=(), description="Thickenings on the inside")


class Run(_Straight):
    """One straight run of a building's outline, walked anti-clockwise as seen from above."""

    name: Name = Field(alias="run", examples=["south"], description="What it is called")
    length_mm: Length = Field(description="Along the outside face, from corner to corner; a length")
    corner: Annotated[Literal["outside", "inside"], one_of("outside", "inside")] = Field(
        default="outside", description="The corner at its end: outside juts out, inside is a nook"
    )
    angle_deg: Annotated[float, quantity("angle", "90 deg", least=60, most=175)] = Field(
        default=90.0,
        description="Angle between this run and the next; bonded up to 135 deg, mitred if flatter; an angle",
    )


class InnerWall(_Straight):
    """A wall inside that meets a run of the outline in a T."""

    name: Name = Field(alias="inner", examples=["hall"], description="What it is called")
    from_run: Name = Field(alias="from", examples=["south"], description="The run it starts at")
    at_mm: Place = Field(description="From the start of that run to the inner wall's near side; a length")
    length_mm: Length = Field(description="Clear of the walls it meets; a length")
    to: Name | None = Field(default=None, examples=["north"], description="The run it ends at; a free end unless told")
    to_at_mm: Place | None = Field(
        default=None, description="From the start of that run to the inner wall's near side; a length"
    )


class HowLaid(FileModel):
    """How the blocks of a wall are laid; equal for all the walls of a drawing."""

    block: Size = Field(description="length x height x thickness of the whole block")
    joint_mm: Annotated[float, quantity("length", "10 mm", least=0, most=100)] = Field(
        description="Mortar between blocks, in the beds and at the ends; a length"
    )
    joint_give_mm: Annotated[float, quantity("length", "2 mm", least=0, most=20)] | None = Field(
        default=None,
        description="How far joints may open or close to save cuts and sizes; a fifth of the joint unless told",
    )
    bond: Annotated[Literal["half", "third", "stack"], one_of("half", "third", "stack")] = Field(
        default="half", description="How far each course is shifted against the one below"
    )
    overlap: Annotated[
        str | float, Written("an overlap", "quarter", _read_overlap, {"examples": ["quarter", EN_1996, "150 mm"]})
    ] = Field(
        default="quarter",
        description="Least overlap kept: quarter (end joints that far apart), EN 1996-1-1 or a length",
    )
    least_length_mm: Length | None = Field(
        default=None, description="Shortest block laid; a quarter of the block unless told; a length"
    )
    lintel: Annotated[Literal["trough", "cast", "bought"], one_of("trough", "cast", "bought")] = Field(
        default="trough",
        description="Over openings: trough blocks, one piece cast in a mould of its own, or bought and not counted",
    )
    bearing_mm: Length = Field(
        default=200.0,
        description="Of a lintel on each side, at least; 8 in unless told where the block is in inches; a length",
    )
    sill: Annotated[Literal["plain", "sloped"], one_of("plain", "sloped")] = Field(
        default="plain", description="Blocks under windows: plain, or sawn to shed water"
    )
    ring_beams: tuple[
        Annotated[int, Written("a course", "top", _read_beam, {"type": ["string", "integer"]}, least=0, most=1000)], ...
    ] = Field(default=(), description="Courses of trough blocks for a ring beam: top, or the number of a course")
    mix: Name | None = Field(default=None, examples=["wall"], description="The mix; the order's only one unless told")
    needed: Need | None = Field(default=None, description="When its courses are needed")


class WallPart(HowLaid, _Straight):
    """A part of the order given as a wall: one straight one, or the outline of a building."""

    in_sequence: ClassVar[frozenset[str]] = frozenset({"outline"})

    name: Name = Field(alias="wall", examples=["north"], description="What it is called")
    length_mm: Length | None = Field(default=None, description="Of one straight wall; or write an outline; a length")
    outline: tuple[Run, ...] = Field(default=(), description="Runs of a building, walked anti-clockwise")
    closed: Flag = Field(default=True, description="The outline ends where it starts; false leaves two free ends")
    inner_walls: tuple[InnerWall, ...] = Field(default=(), description="Walls inside that meet the outline in a T")
    height_mm: Length = Field(description="From the floor to the top, or to the eaves of a gable; a length")

    @property
    def system(self) -> str:
        """``US`` where the block is measured in inches, else ``SI``."""
        return system_of(*self.block)

    def said(self, length_mm: float) -> str:
        """A length in words: to a tenth of a millimetre, or in inches where the block is measured in them."""
        return units.show(length_mm if self.system == "US" else round(length_mm, 1), "length", self.system)

    @property
    def step_mm(self) -> float:
        """What a tape tells: a millimetre, or a sixteenth of an inch where the block is measured in them."""
        return units.SIXTEENTH_MM if self.system == "US" else 1.0

    @property
    def least_bearing_mm(self) -> float:
        """How far a lintel bears on each side at least: 200 mm unless told, or 8 in beside a block of inches."""
        told = "bearing_mm" in self.model_fields_set
        return self.bearing_mm if told or self.system != "US" else max(self.bearing_mm, EIGHT_INCHES_MM)

    @property
    def least_mm(self) -> float:
        """The shortest block laid."""
        return self.block[0] / 4 if self.least_length_mm is None else self.least_length_mm

    @property
    def give_mm(self) -> float:
        """How far a joint may open or close."""
        return self.joint_mm / 5 if self.joint_give_mm is None else self.joint_give_mm

    @property
    def overlap_mm(self) -> float:
        """The least overlap between courses: how far a block lies on each of the two below.

        Source
        ------
        A quarter: head joints at least a quarter of the block apart, TMS 402, quoted by an encyclopedia.
        EN 1996-1-1:2005, 8.1.4.1, from memory: of blocks up to 250 mm
        high 0.4 of the height and at least 40 mm, of higher ones 0.2 of it and at least 100 mm.
        """
        if self.bond == "stack":
            return 0.0
        if self.overlap == EN_1996:
            height = self.block[1]
            return max(0.4 * height, 40.0) if height <= 250 else max(0.2 * height, 100.0)
        return max(0.0, self.block[0] / 4 - self.joint_mm) if isinstance(self.overlap, str) else self.overlap

    @model_validator(mode="after")
    def _possible(self) -> Self:
        faults = list(find_faults(self))
        if faults:
            raise BadInput.of(faults)
        return self


Straight = WallPart | Run | InnerWall
