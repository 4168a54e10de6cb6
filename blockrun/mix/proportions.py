"""One cubic metre of wet foamed mix: cement, what goes with it, slurry water and foam for an asked density."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from blockrun.mix.refusals import Density, check_foam, check_one_of, check_sand_water, check_water, foam_brought_it
from blockrun.mix.solids import HYDRATED, NEAT, Solids
from blockrun.mix.volume import WATER_KG_M3

SAND: Final = "sand"


@dataclass(frozen=True)
class Proportions:
    """What one m3 of wet mix holds. Foam is air and water; its water is ``foam_kg``."""

    cement_kg: float
    slurry_water_kg: float
    foam_volume_m3: float
    foam_kg: float
    sand_kg: float = 0.0
    fly_ash_kg: float = 0.0
    lime_kg: float = 0.0
    fibre_kg: float = 0.0
    sand_moisture: float = 0.0
    """Water in the sand as it lies, a share of its dry mass; ``sand_kg`` is dry, ``slurry_water_kg`` holds it."""

    @property
    def further_kg(self) -> float:
        """All that is dry beside the cement, kg."""
        return self.sand_kg + self.fly_ash_kg + self.lime_kg + self.fibre_kg

    @property
    def further(self) -> dict[str, float]:
        """What goes in beside cement, water and foam, by its plain name; kg."""
        every = {SAND: self.sand_kg, "fly ash": self.fly_ash_kg, "lime": self.lime_kg, "fibre": self.fibre_kg}
        return {name: mass_kg for name, mass_kg in every.items() if mass_kg}

    @property
    def sand_water_kg(self) -> float:
        """Water that the sand brings into the slurry, kg."""
        return self.sand_kg * self.sand_moisture

    @property
    def tap_water_kg(self) -> float:
        """Water to measure into the slurry, kg: what damp sand brings is taken off."""
        return self.slurry_water_kg - self.sand_water_kg

    @property
    def weighed(self) -> dict[str, float]:
        """What to weigh beside the cement, by its plain name; kg, sand as damp as it lies."""
        return {name: kg + (self.sand_water_kg if name == SAND else 0.0) for name, kg in self.further.items()}

    @property
    def powder_kg(self) -> float:
        """Cement, fly ash and lime, kg."""
        return self.cement_kg + self.fly_ash_kg + self.lime_kg

    @property
    def total_water_kg(self) -> float:
        """Water of slurry and foam together, kg."""
        return self.slurry_water_kg + self.foam_kg

    @property
    def wet_density_kg_m3(self) -> float:
        """Density as poured: all that is dry and all water."""
        return self.cement_kg + self.total_water_kg + self.further_kg

    @property
    def oven_dry_density_kg_m3(self) -> float:
        """Density when hardened and dried in an oven: 1.2 x cement, and what else is dry."""
        return HYDRATED * self.cement_kg + self.further_kg

    @property
    def air_fraction(self) -> float:
        """Share of the volume that is air, 0 to 1: the foam less its water."""
        return self.foam_volume_m3 - self.foam_kg / WATER_KG_M3

    @property
    def slurry_water_cement(self) -> float:
        """Water / cement of the slurry, before the foam, by mass."""
        return self.slurry_water_kg / self.cement_kg

    @property
    def slurry_water_powder(self) -> float:
        """Water / cement, fly ash and lime of the slurry, by mass: how stiff it is."""
        return self.slurry_water_kg / self.powder_kg

    @property
    def total_water_cement(self) -> float:
        """Water / cement of slurry and foam together, by mass."""
        return self.total_water_kg / self.cement_kg

    @property
    def total_water_powder(self) -> float:
        """Water / cement, fly ash and lime of slurry and foam together, by mass."""
        return self.total_water_kg / self.powder_kg

    @property
    def slurry_density_kg_m3(self) -> float:
        """Density of the slurry before the foam: the first thing to weigh in the yard."""
        return (self.cement_kg + self.further_kg + self.slurry_water_kg) / (1 - self.foam_volume_m3)


def proportions(
    *,
    foam_density_kg_m3: float,
    slurry_water_cement: float | None = None,
    water_cement: float | None = None,
    oven_dry_density_kg_m3: float | None = None,
    wet_density_kg_m3: float | None = None,
    solids: Solids = NEAT,
    sand_moisture: float = 0.0,
) -> Proportions:
    """What goes into one m3 of wet mix, for one asked density and one asked ratio of water.

    With cement C, what goes with it, slurry ratio s and foam of density g, foam fills what solids and slurry water
    leave: V = 1 - C v - C s/1000, with v the volume of the solids for each kilogram of cement. C is D/(1.2 + a) for
    an oven-dry density D and a kilograms of other solids to one of cement, and solves W = C (1 + a + s) + g V for a
    wet density W. With a ratio w of all water, air is 1 - C v - C w/1000, V = air/(1 - g/1000), C = W/(1 + a + w) for
    a wet density, and the slurry gets C w - g V.

    Parameters
    ----------
    foam_density_kg_m3 : kg/m3 (or g/L), above 0 and under 1000.
    slurry_water_cement, water_cement : exactly one of them: water / cement by mass in the slurry, or of slurry and
        foam together. What the slurry gets is at least 0.30 of its cement, fly ash and lime.
    oven_dry_density_kg_m3, wet_density_kg_m3 : exactly one of them, above 0 (wet: above the foam's) and low
        enough to need foam.
    solids : what goes in beside the cement.
    sand_moisture : water in the sand as it lies, a share of its dry mass, 0 to 0.3; all of it counts as slurry water.

    Returns
    -------
    The mix. Its masses add up to the wet density and its volumes to 1 m3.

    Raises
    ------
    BadInput : both densities or both ratios, or none, are given.
    OutOfRange : an argument is outside the limits above; the reason and what to change are said.

    Source
    ------
    Absolute volumes; oven-dry density as in ASTM C869-91(R1999), table 1, footnote A;
    tests/published/test_c869_batch.py, tests/published/test_water_in_the_foam.py.
    """
    check_one_of("density", oven_dry_density=oven_dry_density_kg_m3, wet_density=wet_density_kg_m3)
    check_one_of("ratio of water", slurry_water_cement=slurry_water_cement, water_cement=water_cement)
    check_foam(foam_density_kg_m3)
    density = _Asked(oven_dry_density_kg_m3, wet_density_kg_m3, solids, foam_density_kg_m3, sand_moisture)
    if slurry_water_cement is not None:
        check_water("slurry_water_cement", slurry_water_cement, solids.powder_kg)
        made = density.with_slurry(slurry_water_cement)
    else:
        assert water_cement is not None
        check_water("water_cement", water_cement, solids.powder_kg)
        made = density.with_total(water_cement)
    check_sand_water(sand_moisture, made.sand_water_kg, made.slurry_water_kg)
    return made


@dataclass(frozen=True)
class _Asked:
    """One asked density of a mix of given solids and foam."""

    oven_dry: float | None
    wet: float | None
    solids: Solids
    foam: float
    sand_moisture: float

    def with_slurry(self, ratio: float) -> Proportions:
        """The mix whose slurry has this water / cement."""
        wet_kg = self.solids.mass_kg + ratio
        slurry = wet_kg / self.solids.volume_m3(1, ratio)
        cement_of_slurry = slurry / wet_kg  # in 1 m3 of it
        limits = self._limits(cement_of_slurry, slurry, water="slurry_water_cement")
        if self.wet is not None:
            # slurry and foam share the volume: W = x slurry + (1 - x) foam
            cement_kg = cement_of_slurry * (self.wet - self.foam) / (slurry - self.foam)
        else:
            cement_kg = self._cement_by_oven_dry()
        limits.check_cement(cement_kg)
        water_kg = cement_kg * ratio
        foam_m3 = 1 - self.solids.volume_m3(cement_kg, water_kg)
        limits.check_foam(foam_m3)
        return self._made(cement_kg, water_kg, foam_m3)

    def with_total(self, ratio: float) -> Proportions:
        """The mix whose slurry and foam together have this water / cement."""
        wet_kg = self.solids.mass_kg + ratio
        air_free = wet_kg / self.solids.volume_m3(1, ratio)
        limits = self._limits(air_free / wet_kg, air_free, water="water_cement")
        cement_kg = self.wet / wet_kg if self.wet is not None else self._cement_by_oven_dry()
        limits.check_cement(cement_kg)
        air_m3 = 1 - self.solids.volume_m3(cement_kg, cement_kg * ratio)
        limits.check_foam(air_m3)
        foam_m3 = air_m3 / (1 - self.foam / WATER_KG_M3)
        water_kg = cement_kg * ratio - self.foam * foam_m3
        foam_brought_it(ratio, water_kg / cement_kg, self.solids.powder_kg, self._least_total)
        return self._made(cement_kg, water_kg, foam_m3)

    def _cement_by_oven_dry(self) -> float:
        assert self.oven_dry is not None
        return self.oven_dry / self.solids.oven_dry_kg

    def _limits(self, cement_kg: float, heaviest: float, water: str) -> Density:
        """Between what the density must lie, given the most cement and the wet density of the mix without foam."""
        if self.wet is not None:
            return Density("wet_density", self.wet, above=self.foam, under=heaviest, water=water)
        assert self.oven_dry is not None
        under = self.solids.oven_dry_kg * cement_kg
        return Density("oven_dry_density", self.oven_dry, above=0, under=under, water=water)

    def _least_total(self, slurry_ratio: float) -> float:
        """The total water / cement that leaves the slurry this water / cement."""
        return self.with_slurry(slurry_ratio).total_water_cement

    def _made(self, cement_kg: float, slurry_water_kg: float, foam_m3: float) -> Proportions:
        solids = self.solids
        return Proportions(
            cement_kg,
            slurry_water_kg,
            foam_m3,
            foam_kg=foam_m3 * self.foam,
            sand_kg=cement_kg * solids.sand,
            fly_ash_kg=cement_kg * solids.fly_ash,
            lime_kg=cement_kg * solids.lime,
            fibre_kg=cement_kg * solids.fibre,
            sand_moisture=self.sand_moisture,
        )
