"""What mixes: drums, the foam generator, and the buckets things are counted and weighed in."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, Final, Self

from pydantic import Field, ModelWrapValidatorHandler, model_validator

from blockrun import units
from blockrun.errors import BadInput
from blockrun.site.fields import Name, People, Ratio, fraction, quantity
from blockrun.site.file_model import FileModel
from blockrun.site.stock import Litres
from blockrun.site.times import Pause, Task
from blockrun.site.written import Written


class Mixer(FileModel):
    """A drum mixer and the times its batches take."""

    name: Name = Field(description="What it is called")
    usable_volume_l: Annotated[float, quantity("volume", "220 L", above=0, most=100_000)] = Field(
        description="What it can hold when the foam is in; a volume"
    )
    least_volume_l: Litres = Field(description="What the paddle needs to mix well; a volume")
    bag_step: Annotated[Fraction, fraction("a number of bags", "1/2", most=1000)] = Field(
        description="Batches are made up in steps of this many bags"
    )
    slurry_time_min: Task = Field(description="To charge and mix cement and water; a time")
    foam_time_min: Pause = Field(description="To blend the foam in; a time")
    pour_time_min: Task = Field(description="To empty the mixer into the moulds; a time")
    wash_time_min: Pause = Field(description="To wash before the next batch; a time")
    left_behind_l: Litres = Field(description="What stays in the drum, per batch; a volume")
    crew: People = Field(description="People busy while a batch runs")

    @model_validator(mode="wrap")
    @classmethod
    def _volumes(cls, given: Any, read: ModelWrapValidatorHandler[Self]) -> Self:
        mixer = read(given)
        if mixer.least_volume_l > mixer.usable_volume_l:
            written = given.get("usable_volume") if isinstance(given, dict) else None
            most = units.show(mixer.usable_volume_l, "volume", "SI")
            raise BadInput(
                "least_volume is more than usable_volume",
                f"Write a volume up to {written or most}.",
                name="least_volume",
                value=mixer.least_volume_l,
                limit=mixer.usable_volume_l,
                unit="L",
            )
        return mixer


LIGHTEST_FOAM_KG_M3: Final = 20.0
HEAVIEST_FOAM_KG_M3: Final = 500.0
"""Beyond these it is no foam that was weighed, but a slip (our choice); the check of a batch asks the same."""


def _foam(example: str) -> Written:
    return quantity("density", example, least=LIGHTEST_FOAM_KG_M3, most=HEAVIEST_FOAM_KG_M3)


class FoamGenerator(FileModel):
    """The one foam generator of the yard."""

    rate_l_min: Annotated[float, quantity("rate", "60 L/min", above=0, most=100_000)] = Field(
        description="Foam it makes; a flow"
    )
    foam_density_kg_m3: Annotated[float, _foam("95 g/L")] = Field(description="What the foam weighs; a density")
    agent_dilution: Ratio = Field(description="Parts of foaming agent : parts of water, by volume")
    weighed_kg_m3: Annotated[float, _foam("98 g/L")] | None = Field(
        default=None, description="What it weighed last, taken in place of foam_density; a density"
    )
    tank_l: Annotated[float, quantity("volume", "20 L", above=0, most=100_000)] | None = Field(
        default=None, description="Dilution is made up by the full tank of this volume"
    )

    @property
    def density_kg_m3(self) -> float:
        """What the foam weighs as far as is known: as last weighed, else as named."""
        return self.weighed_kg_m3 or self.foam_density_kg_m3

    @property
    def agent_parts(self) -> float:
        """Parts of foaming agent in the dilution, by volume."""
        return self.agent_dilution[0]

    @property
    def water_parts(self) -> float:
        """Parts of water in the dilution, by volume."""
        return self.agent_dilution[1]

    @property
    def agent_share(self) -> float:
        """Agent in the dilution, by volume, 0 to 1."""
        return self.agent_parts / (self.agent_parts + self.water_parts)


_Bucket = Annotated[float, quantity("volume", "10 L", above=0, most=1000)]

_Tolerance = Annotated[
    float,
    Written(
        "a percentage", "5 %", lambda text: float(units.percent(text)), {"pattern": r"^\d+(\.\d+)?\s*%$"},
        above=0, most=1, dimension="fraction",
    ),
]  # fmt: skip


class Buckets(FileModel):
    """What things are counted and weighed in."""

    water_l: _Bucket | None = Field(default=None, description="Slurry water is counted in these; a volume")
    foam_l: _Bucket | None = Field(default=None, description="Foam is weighed and counted in these; a volume")
    mix_l: _Bucket | None = Field(default=None, description="Slurry and wet mix are weighed in these; a volume")
    empty_kg: Annotated[float, quantity("mass", "0.6 kg", least=0, most=100)] = Field(
        default=0.0, description="What an empty bucket weighs; weights are told with the bucket then"
    )
    tolerance: _Tolerance = Field(
        default=0.05, description="A full bucket may weigh so much less or more; 5 % unless told, our choice"
    )
