"""Moulds, and how the slab of one is sawn."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import AfterValidator, Field, model_validator

from blockrun.errors import BadInput
from blockrun.site.fields import Flag, Kind, Size, quantity, whole
from blockrun.site.file_model import FileModel
from blockrun.site.insulation import Layer, LayerOf
from blockrun.site.mould_names import base_name, mould_name
from blockrun.site.ripeness import AgeOrStrength
from blockrun.site.times import Pause, Task

Angles = Annotated[
    tuple[Annotated[float, quantity("angle", "0 deg", least=-80, most=80)], ...],
    AfterValidator(lambda angles: tuple(sorted(set(angles)))),
]


class Saw(FileModel):
    """How a slab is sawn into blocks once it is stripped."""

    kerf_mm: Annotated[float, quantity("length", "4 mm", least=0, most=50)] = Field(
        description="Width of the saw cut; a length"
    )
    time_min: Task = Field(description="To saw what one mould casts, right after the strip, one person; a time")


class MouldKind(FileModel):
    """Moulds that are all alike."""

    kind: Kind = Field(description="What they are called")
    count: Annotated[int, whole("a number of moulds", "6", most=1000)] = Field(description="Moulds of this kind")
    cavities: Annotated[int, whole("a number of cavities", "4", most=1000)] = Field(description="Cavities of one mould")
    cavity: Size = Field(description="length x height x thickness of one cavity")
    stop_ends: Flag = Field(default=False, description="It may cast shorter blocks of the same height and thickness")
    wedges_deg: Angles = Field(
        default=(0.0,), min_length=1, description="Bevels it can cast: each end leans in through the thickness; angles"
    )
    tapers_deg: Angles = Field(
        default=(0.0,), min_length=1, description="Tapers it can cast: each end leans in up the face; angles"
    )
    bed_wedges_deg: Angles = Field(
        default=(0.0,), min_length=1, description="Bed bevels it can cast: each bed leans in; angles"
    )
    saw: Saw | None = Field(
        default=None, description="With one cavity: what it casts is a slab, sawn into blocks of its thickness"
    )
    filler: Flag = Field(
        default=False, description="It takes what is left of a batch; nothing that is ordered is planned in it"
    )
    mass_kg: Annotated[float, quantity("mass", "18 kg", above=0, most=5000)] | None = Field(
        default=None, description="What one weighs empty; told where it is too heavy to lift when it is full"
    )
    strip_time_min: Task = Field(description="To strip the whole mould, one person; a time")
    clean_time_min: Pause = Field(description="To clean and oil it, one person; a time")
    bases: Annotated[int, whole("a number of bases", "10", most=10_000)] | None = Field(
        default=None, description="Bases, when the sides come off first and the block stays on its base"
    )
    sides_off_at_h: AgeOrStrength | None = Field(
        default=None,
        description="With bases: age at 20 degC at which the sides may come off, a time; or a strength",
        examples=["18 h"],
    )
    sides_time_min: Task | None = Field(
        default=None, description="With bases: to take the sides off and clean them, one person; a time"
    )

    walls: LayerOf = Field(
        default=Layer("plywood", 18.0), description="With heat: modelled, which needs it, what it is made of"
    )
    cover: LayerOf | None = Field(
        default=None, description="With heat: modelled, what lies on top until the strip; as the walls unless told"
    )

    @property
    def length_mm(self) -> float:
        """Length of a cavity in mm."""
        return self.cavity[0]

    @property
    def height_mm(self) -> float:
        """Height of a cavity in mm."""
        return self.cavity[1]

    @property
    def thickness_mm(self) -> float:
        """Thickness of a cavity in mm."""
        return self.cavity[2]

    @property
    def strip_and_saw_min(self) -> int:
        """From the start of the strip until the blocks can be moved: sawing included."""
        return self.strip_time_min + (self.saw.time_min if self.saw else 0)

    @model_validator(mode="after")
    def _slab_plain(self) -> Self:
        if self.saw and self.cavities > 1:
            raise BadInput(
                "a mould that casts a slab to be sawn has one cavity",
                "Write cavities: 1, and more moulds in count.",
                name="cavities",
            )
        inserts = {"wedges": self.wedges_deg, "tapers": self.tapers_deg, "bed_wedges": self.bed_wedges_deg}
        set_in = next((key for key, angles in inserts.items() if angles != (0.0,)), None)
        if self.saw and (set_in or self.stop_ends):
            key = set_in or "stop_ends"
            raise BadInput(f"a slab to be sawn is cast without {key}", f"Take {key} out.", name=key)
        if self.saw and self.filler:
            raise BadInput("a filler mould is small, and not sawn", "Take saw or filler out.", name="filler")
        return self

    @property
    def mould_names(self) -> list[str]:
        """Its moulds by name, the sides of those with bases."""
        return [mould_name(self.kind, number) for number in range(1, self.count + 1)]

    @property
    def base_names(self) -> list[str]:
        """Its bases by name; none where it has none."""
        return [base_name(self.kind, number) for number in range(1, (self.bases or 0) + 1)]

    @model_validator(mode="after")
    def _bases_whole(self) -> Self:
        given = {"bases": self.bases, "sides_off_at": self.sides_off_at_h, "sides_time": self.sides_time_min}
        missing = [key for key, value in given.items() if value is None]
        if 0 < len(missing) < 3:
            present = next(key for key, value in given.items() if value is not None)
            raise BadInput(
                f"{present} is given without {' and '.join(missing)}",
                f"Write {' and '.join(missing)} too, or take {present} out.",
                name=present,
            )
        return self
