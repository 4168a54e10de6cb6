"""A dome as an order file describes it."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from blockrun import units
from blockrun.errors import BadInput
from blockrun.order.domes.profile import Curve, Ellipse, catenary, hemisphere, pointed, segment
from blockrun.order.domes.refuse import Where, find_faults
from blockrun.order.need import Need
from blockrun.order.said import system_of
from blockrun.site.fields import Name, one_of, quantity
from blockrun.site.file_model import FileModel

_Level = Annotated[float, quantity("length", "1.2 m", least=0, most=100_000)]


class DomeOpening(FileModel):
    """A door or a window through a dome: upright sides, a flat head and a flat sill, straight through the shell."""

    name: Name = Field(examples=["door"], description="What it is called")
    at_deg: Annotated[float, quantity("angle", "90 deg", least=-360, most=360)] = Field(
        default=0.0, description="Where its middle is: an angle round the dome, anti-clockwise from above"
    )
    sill_mm: _Level = Field(default=0.0, description="From the floor to its sill; a length")
    width_mm: Annotated[float, quantity("length", "0.9 m", above=0, most=100_000)] = Field(
        description="Clear width; a length"
    )
    height_mm: Annotated[float, quantity("length", "2.0 m", above=0, most=100_000)] = Field(
        description="From its sill to its head; a length"
    )

    @property
    def head_mm(self) -> float:
        """Height of its head above the floor."""
        return self.sill_mm + self.height_mm


class DomePart(FileModel):
    """A dome of flat-faced blocks in level rings, on a ring wall or on the ground."""

    name: Name = Field(alias="dome", examples=["store"], description="What it is called")
    inside_diameter_mm: Annotated[float, quantity("length", "4.4 m", above=0, most=100_000)] = Field(
        description="Clear width of the room at the springing; a length"
    )
    profile: Annotated[
        Literal["hemisphere", "segment", "pointed", "ellipse", "catenary"],
        one_of("hemisphere", "segment", "pointed", "ellipse", "catenary"),
    ] = Field(default="hemisphere", description="The curve of its section")
    rise_mm: Annotated[float, quantity("length", "2.6 m", above=0, most=100_000)] | None = Field(
        default=None, description="From the springing to the crown, inside; for any profile but the hemisphere"
    )
    stem_mm: _Level = Field(default=0.0, description="Height of the upright ring wall below the springing; a length")
    thickness_mm: Annotated[float, quantity("length", "200 mm", above=0, most=2000)] = Field(
        description="Of wall and shell; a length"
    )
    course_mm: Annotated[float, quantity("length", "300 mm", above=0, most=2000)] = Field(
        description="Height of a block up the curve, on the inside face; a length"
    )
    block_length_mm: Annotated[float, quantity("length", "450 mm", above=0, most=5000)] = Field(
        description="The longest block, measured outside at the bottom; a length"
    )
    joint_mm: Annotated[float, quantity("length", "10 mm", least=2, most=200)] = Field(
        description="Mortar joint, on the inside face; a length"
    )
    joint_least_mm: Annotated[float, quantity("length", "6 mm", above=0, most=200)] | None = Field(
        default=None, description="Thinnest that a joint may be anywhere; three fifths of the joint unless told"
    )
    joint_most_mm: Annotated[float, quantity("length", "40 mm", above=0, most=500)] | None = Field(
        default=None, description="Widest that a joint may be anywhere; four times the joint unless told"
    )
    least_length_mm: Annotated[float, quantity("length", "150 mm", above=0, most=5000)] | None = Field(
        default=None, description="Shortest block or piece; a third of the block length unless told"
    )
    blocks: Annotated[Literal["best", "plain", "tapered"], one_of("best", "plain", "tapered")] = Field(
        default="best", description="Plain blocks with wedges of mortar, tapered blocks, or for each course the better"
    )
    crown: Annotated[Literal["block", "ring", "eye"], one_of("block", "ring", "eye")] = Field(
        default="block", description="How it closes: a round block, a ring of points round a plug, or an open eye"
    )
    eye_diameter_mm: Annotated[float, quantity("length", "600 mm", above=0, most=50_000)] | None = Field(
        default=None, description="Clear width of the open eye, inside; a length"
    )
    pivot_mm: Annotated[float, quantity("length", "1.2 m", least=-10_000, most=100_000)] | None = Field(
        default=None, description="Height above the floor of the pivot of the compass arm; the springing unless told"
    )
    mix: Name | None = Field(default=None, examples=["wall"], description="The mix it is cast of")
    openings: tuple[DomeOpening, ...] = Field(default=(), description="Doors and windows")
    needed: Need | None = Field(default=None, description="When its courses are needed")

    @property
    def system(self) -> str:
        """``US`` where its blocks are measured in inches, else ``SI``."""
        return system_of(self.thickness_mm, self.course_mm, self.block_length_mm)

    @property
    def step_mm(self) -> float:
        """What a tape tells: a millimetre, or a sixteenth of an inch where its blocks are measured in them."""
        return units.SIXTEENTH_MM if self.system == "US" else 1.0

    def said(self, length_mm: float) -> str:
        """A length in words: to a tenth of a millimetre, or in inches where its blocks are measured in them."""
        return units.show(length_mm if self.system == "US" else round(length_mm, 1), "length", self.system)

    def on_tape(self, length_mm: float) -> str:
        """The same to what a tape tells."""
        return self.said(round(length_mm / self.step_mm) * self.step_mm)

    def up_to(self, length_mm: float) -> str:
        """The same, and no more than it is."""
        return self.said(math.floor(length_mm / self.step_mm + 1e-6) * self.step_mm)

    def at_least(self, length_mm: float) -> str:
        """The same, and no less than it is."""
        return self.said(math.ceil(length_mm / self.step_mm - 1e-6) * self.step_mm)

    @property
    def radius_mm(self) -> float:
        """Inside radius at the springing."""
        return self.inside_diameter_mm / 2

    @property
    def least_joint_mm(self) -> float:
        """Thinnest joint; without a limit of the user's, three fifths of the joint (our choice)."""
        return 0.6 * self.joint_mm if self.joint_least_mm is None else self.joint_least_mm

    @property
    def most_joint_mm(self) -> float:
        """Widest joint; without a limit of the user's, four times the joint (our choice)."""
        return 4 * self.joint_mm if self.joint_most_mm is None else self.joint_most_mm

    @property
    def shortest_mm(self) -> float:
        """Shortest block or piece; without a limit of the user's, a third of the longest (our choice)."""
        return self.block_length_mm / 3 if self.least_length_mm is None else self.least_length_mm

    @property
    def lowest_mm(self) -> float:
        """Lowest cut course: a third of a whole one (our choice)."""
        return self.course_mm / 3

    @property
    def smallest_mm(self) -> float:
        """Smallest radius that blocks meet round at the crown: a sixth of a course, three joints (our choice)."""
        return max(self.course_mm / 6, 3 * self.joint_mm)

    @property
    def pivot_height_mm(self) -> float:
        """The pivot of the compass arm above the floor, on the axis."""
        return self.stem_mm if self.pivot_mm is None else self.pivot_mm

    @property
    def line_of_angles(self) -> str:
        """The line from the middle of the dome that all angles round it are measured from, in words."""
        if not self.openings:
            return "a line of your own, one for all courses"
        nearest = min(self.openings, key=lambda opening: abs(opening.at_deg))
        if not nearest.at_deg:
            return f"the middle of {nearest.name}"
        way = "clockwise" if nearest.at_deg > 0 else "anti-clockwise"
        return f"a line {abs(nearest.at_deg):g} deg {way} of the middle of {nearest.name}"

    @cached_property
    def curve(self) -> Curve:
        """The inside curve above the springing."""
        if self.profile == "hemisphere" or self.rise_mm is None:
            return hemisphere(self.radius_mm)
        shapes: dict[str, Callable[[float, float], Curve]] = {
            "segment": segment,
            "pointed": pointed,
            "ellipse": Ellipse,
            "catenary": catenary,
        }
        return shapes[self.profile](self.radius_mm, self.rise_mm)

    @model_validator(mode="after")
    def _sound(self) -> Self:
        faults = [_said(*fault) for fault in find_faults(self)]
        if faults:
            raise BadInput.of(faults)
        return self


def _said(where: Where, what: str, todo: str) -> BadInput:
    fault = BadInput(what, todo, name=str(where[-1]))
    fault.within = where[:-1]
    return fault
