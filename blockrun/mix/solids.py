"""Dry things in a mix beside its cement: sand, fly ash, lime, fibre."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from blockrun.mix.volume import CEMENT_KG_M3, WATER_KG_M3, absolute_volume_m3

SAND_KG_M3: Final = 2650.0
"""Particle density of quartz sand (common practice, no source)."""

FLY_ASH_KG_M3: Final = 2300.0
"""Particle density of fly ash; 1900 to 2800 is met with (from memory, no source)."""

LIME_KG_M3: Final = 2240.0
"""Particle density of hydrated lime (from memory, no source)."""

FIBRE_KG_M3: Final = 910.0
"""Density of polypropylene fibre (from memory, no source)."""

HYDRATED: Final = 1.2
"""Oven-dry mass of hardened neat cement over its cement: the cement binds a fifth of its mass in water (ASTM C869)."""


@dataclass(frozen=True)
class Solids:
    """Dry things for each kilogram of cement, in kilograms, and the densities of their particles.

    Fly ash and lime count as powder beside the cement where it is asked whether a slurry is too dry to mix, and as
    sand in the oven-dry density: only cement binds water. What they bind is left out (our choice; a few kg/m3).
    """

    sand: float = 0.0
    fly_ash: float = 0.0
    lime: float = 0.0
    fibre: float = 0.0
    sand_density_kg_m3: float = SAND_KG_M3
    fly_ash_density_kg_m3: float = FLY_ASH_KG_M3
    lime_density_kg_m3: float = LIME_KG_M3
    fibre_density_kg_m3: float = FIBRE_KG_M3

    @property
    def further_kg(self) -> float:
        """All that is not cement, kg for each kg of cement."""
        return self.sand + self.fly_ash + self.lime + self.fibre

    @property
    def mass_kg(self) -> float:
        """Cement and all else that is dry, kg for each kg of cement."""
        return 1 + self.further_kg

    @property
    def powder_kg(self) -> float:
        """Cement, fly ash and lime, kg for each kg of cement: what slurry water has to make flow."""
        return 1 + self.fly_ash + self.lime

    @property
    def oven_dry_kg(self) -> float:
        """Mass when hardened and dried in an oven, kg for each kg of cement.

        1.2 for the cement, and what else there is as it is: 1.2 C + A (ACI 523, from memory; the 1.2 of neat cement
        is ASTM C869, table 1, footnote A).
        """
        return HYDRATED + self.further_kg

    def volume_m3(self, cement_kg: float, water_kg: float) -> float:
        """Room taken, free of air, by so much cement, what goes with it and so much water; m3."""
        return absolute_volume_m3(
            (cement_kg, CEMENT_KG_M3),
            (water_kg, WATER_KG_M3),
            (cement_kg * self.sand, self.sand_density_kg_m3),
            (cement_kg * self.fly_ash, self.fly_ash_density_kg_m3),
            (cement_kg * self.lime, self.lime_density_kg_m3),
            (cement_kg * self.fibre, self.fibre_density_kg_m3),
        )


NEAT: Final = Solids()
"""Cement alone."""
