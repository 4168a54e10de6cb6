"""What lies in a mixer: masses and volumes that add up, and how much to add to reach a density."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

from blockrun.errors import OutOfRange
from blockrun.mix.proportions import Proportions
from blockrun.mix.solids import HYDRATED
from blockrun.mix.volume import CEMENT_KG_M3, LITRES_PER_M3, WATER_KG_M3


@dataclass(frozen=True)
class Contents:
    """Masses and volumes of a batch, of a part of it, or of what is added to it; they add up and scale."""

    cement_kg: float = 0.0
    water_kg: float = 0.0
    """Of slurry and foam together."""
    mass_kg: float = 0.0
    air_free_l: float = 0.0
    """What solids and water fill, air not counted."""
    oven_dry_kg: float = 0.0
    """What would be left of it, hardened and dried in an oven."""
    volume_l: float = 0.0

    def __add__(self, other: Contents) -> Contents:
        """Both together; volumes add up, so no bubble is lost."""
        return Contents(*(getattr(self, one.name) + getattr(other, one.name) for one in fields(self)))

    def __mul__(self, share: float) -> Contents:
        """So many times as much of the same."""
        return Contents(*(getattr(self, one.name) * share for one in fields(self)))

    def at_density(self, wet_density_kg_m3: float) -> Contents:
        """The same masses in the volume that a weighed density tells (ASTM C138: yield = mass / density)."""
        changed = {one.name: getattr(self, one.name) for one in fields(self)}
        return Contents(**changed | {"volume_l": self.mass_kg / wet_density_kg_m3 * LITRES_PER_M3})

    @property
    def wet_density_kg_m3(self) -> float:
        """Density as it is."""
        return self.mass_kg / self.volume_l * LITRES_PER_M3

    @property
    def oven_dry_density_kg_m3(self) -> float:
        """Density when hardened and dried in an oven."""
        return self.oven_dry_kg / self.volume_l * LITRES_PER_M3

    @property
    def air_l(self) -> float:
        """Air in it; ASTM C138: volume less the air-free volume."""
        return self.volume_l - self.air_free_l

    @property
    def air_fraction(self) -> float:
        """Share of the volume that is air, 0 to 1."""
        return self.air_l / self.volume_l

    @property
    def total_water_cement(self) -> float:
        """All the water / cement, by mass."""
        return self.water_kg / self.cement_kg


def slurry_of(mix: Proportions, makes_l: float) -> Contents:
    """All that is not foam in so many litres of a mix.

    Parameters
    ----------
    mix : as the card has it.
    makes_l : litres of mix that the batch makes, >= 0.

    Returns
    -------
    Cement, slurry water and whatever solids the mix has besides, without air.
    """
    m3 = makes_l / LITRES_PER_M3
    slurry_l = (1 - mix.foam_volume_m3) * makes_l
    return Contents(
        cement_kg=mix.cement_kg * m3,
        water_kg=mix.slurry_water_kg * m3,
        mass_kg=(mix.wet_density_kg_m3 - mix.foam_kg) * m3,
        air_free_l=slurry_l,
        oven_dry_kg=mix.oven_dry_density_kg_m3 * m3,
        volume_l=slurry_l,
    )


def foam_of(foam_l: float, density_kg_m3: float) -> Contents:
    """So many litres of foam: its mass is water, the rest of it air."""
    foam_kg = foam_l * density_kg_m3 / LITRES_PER_M3
    return Contents(water_kg=foam_kg, mass_kg=foam_kg, air_free_l=_litres(foam_kg), volume_l=foam_l)


def water_of(water_kg: float) -> Contents:
    """So much water; a negative mass takes it away."""
    litres = _litres(water_kg)
    return Contents(water_kg=water_kg, mass_kg=water_kg, air_free_l=litres, volume_l=litres)


def cement_of(cement_kg: float) -> Contents:
    """So much cement, free of air."""
    litres = cement_kg / CEMENT_KG_M3 * LITRES_PER_M3
    return Contents(cement_kg, 0.0, cement_kg, litres, HYDRATED * cement_kg, litres)


def amount_to_reach(density_kg_m3: float, here: Contents, added: Contents) -> float:
    """How many times an addition brings what lies in the mixer to a density, exactly.

    With mass M and volume V here, m and v of one addition and density D: x = (D V - M) / (m - D v).

    Parameters
    ----------
    density_kg_m3 : to reach, > 0.
    here : what lies in the mixer.
    added : one addition, such as a litre of foam.

    Returns
    -------
    The amount, in additions; negative where it would have to be taken out.

    Raises
    ------
    OutOfRange : the addition has the density to be reached, so that no amount of it changes anything.

    Source
    ------
    Mass and volume balance; tests/properties/test_corrections_are_exact.py adds it up again.
    """
    pull = added.mass_kg - density_kg_m3 * added.volume_l / LITRES_PER_M3
    if math.isclose(pull, 0, abs_tol=1e-12):
        raise OutOfRange(
            "what would be added weighs as much as the mix is to weigh",
            "Add something lighter or heavier.",
            name="density",
            value=density_kg_m3,
            unit="kg/m3",
        )
    return (density_kg_m3 * here.volume_l / LITRES_PER_M3 - here.mass_kg) / pull


def water_told_by(slurry: Contents, density_kg_m3: float) -> float:
    """Water that a slurry holds over its card, told by what it weighs; its solids are taken as weighed in.

    Parameters
    ----------
    slurry : as the card has it.
    density_kg_m3 : as it was weighed.

    Returns
    -------
    kg; negative where water is missing.
    """
    return amount_to_reach(density_kg_m3, slurry, water_of(1))


def _litres(water_kg: float) -> float:
    return water_kg / WATER_KG_M3 * LITRES_PER_M3
