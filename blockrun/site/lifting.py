"""How blocks are lifted in the yard: what the limits of lifting by hand are worked out from."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from blockrun.site.fields import number, one_of, quantity, whole, whole_minutes
from blockrun.site.file_model import FileModel

Height = Annotated[float, quantity("length", "0.3 m", least=0, most=2500)]

Grip = Literal["good", "fair", "poor"]


class Lifting(FileModel):
    """The lift of a block just stripped; unless told, off a low bench and on to a rack (our choice, measure yours)."""

    from_height_mm: Height = Field(
        default=300.0, description="Hands above the floor as it is taken up; 0.3 m unless told"
    )
    to_height_mm: Height = Field(default=1000.0, description="Hands above the floor as it is put down; 1 m unless told")
    reach_mm: Annotated[float, quantity("length", "0.3 m", above=0, most=1500)] = Field(
        default=300.0, description="Hands before the middle of the ankles; 0.3 m unless told"
    )
    twist_deg: Annotated[float, quantity("angle", "30 deg", least=0, most=180)] = Field(
        default=30.0, description="Turn of the body with the block; 30 deg unless told"
    )
    lifts_a_minute: Annotated[float, number("a number of lifts a minute", "1", above=0, most=60)] = Field(
        default=1.0, description="Lifts a minute while it goes on; 1 unless told"
    )
    time_min: Annotated[int, whole_minutes("1 h", above=0, most=480)] = Field(
        default=60, description="Lifting at a stretch, light work after it; 1 h unless told"
    )
    grip: Annotated[Grip, one_of("good", "fair", "poor")] = Field(
        default="fair",
        description="How a block is held: good (handles), fair (fingers under it) or poor; fair unless told",
    )
    people: Annotated[int, whole("a number of people", "1", most=3)] = Field(
        default=1, description="People who lift a block together; 1 unless told"
    )
