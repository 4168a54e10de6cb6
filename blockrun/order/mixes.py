"""A mix as an order asks for it: one density or strength, one ratio of water, and what goes in beside the cement."""

from __future__ import annotations

from typing import Annotated, Final, Self

from pydantic import Field, model_validator

from blockrun.errors import BadInput
from blockrun.site.fields import Name, number, quantity
from blockrun.site.file_model import FileModel

DRIEST: Final = 0.30
"""Water / cement, fly ash and lime under which no slurry can be mixed, whatever the foam."""

Density = Annotated[float, quantity("density", "600 kg/m3", above=0, most=3000)]
Ratio = Annotated[float, number("a ratio by mass", "0.50", above=0, most=5)]
Parts = Annotated[float, number("parts by mass to one of cement", "0.5", least=0, most=5)]
Particles = Annotated[float, quantity("density", "2650 kg/m3", least=500, most=8000)]


class MixSpec(FileModel):
    """A mix the order asks for."""

    name: Name = Field(examples=["wall"], description="What it is called")
    oven_dry_density_kg_m3: Density | None = Field(
        default=None, description="Density when all free water is gone; this, the wet one or a strength"
    )
    wet_density_kg_m3: Density | None = Field(
        default=None, description="Density as poured; this, the oven-dry one or a strength"
    )
    strength_mpa: Annotated[float, quantity("strength", "2.0 MPa", above=0, most=100)] | None = Field(
        default=None, alias="strength", description="Strength of cubes, by those of the yard; this or a density"
    )
    slurry_water_cement: Ratio | None = Field(
        default=None, description="Water to cement in the slurry, by mass, before the foam goes in; this or the total"
    )
    water_cement: Ratio | None = Field(
        default=None, description="Water to cement, by mass, slurry and foam together; this or that of the slurry"
    )
    sand: Parts = Field(default=0.0, description="Dry sand to one of cement, by mass")
    fly_ash: Parts = Field(default=0.0, description="Fly ash to one of cement, by mass")
    lime: Parts = Field(default=0.0, description="Hydrated lime to one of cement, by mass")
    fibre: Parts = Field(default=0.0, description="Fibre to one of cement, by mass")
    sand_density_kg_m3: Particles | None = Field(
        default=None, description="Of the grains, without the air between them; 2650 kg/m3 unless told"
    )
    fly_ash_density_kg_m3: Particles | None = Field(
        default=None, description="Of its particles; 2300 kg/m3 unless told"
    )
    lime_density_kg_m3: Particles | None = Field(default=None, description="Of its particles; 2240 kg/m3 unless told")
    fibre_density_kg_m3: Particles | None = Field(
        default=None, description="Of the fibre itself; 910 kg/m3, that of polypropylene, unless told"
    )

    @model_validator(mode="after")
    def _one_of_each(self) -> Self:
        self._check_one(
            "density",
            oven_dry_density=self.oven_dry_density_kg_m3,
            wet_density=self.wet_density_kg_m3,
            strength=self.strength_mpa,
        )
        self._check_one("ratio of water", slurry_water_cement=self.slurry_water_cement, water_cement=self.water_cement)
        return self

    @model_validator(mode="after")
    def _not_too_dry(self) -> Self:
        key = "water_cement" if self.slurry_water_cement is None else "slurry_water_cement"
        ratio = self.slurry_water_cement or self.water_cement or 0
        powder = 1 + self.fly_ash + self.lime
        least = DRIEST * powder
        if ratio < least - 1e-9:
            why = "" if powder == 1 else ", as fly ash and lime want water too"
            raise BadInput(
                f"{key} is under {least:.2f}{why}: too dry to mix, and it would draw its water out of the foam",
                f"Write {least:.2f} or more; {0.45 * powder:.2f} to {0.6 * powder:.2f} is common in a slurry.",
                name=key,
                value=ratio,
                limit=least,
            )
        return self

    def _check_one(self, what: str, **values: float | None) -> None:
        """One of some keys, no more and no less."""
        given = [key for key, value in values.items() if value is not None]
        if len(given) != 1:
            said = f"{' and '.join(given)} are given together" if given else f"a {what} is missing"
            raise BadInput(
                f"mix {self.name}: {said}",
                f"Write one of {', '.join(values)}.",
                name=given[-1] if given else None,
            )
