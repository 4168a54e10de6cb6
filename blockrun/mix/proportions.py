"""One cubic metre of wet foamed mix: cement, slurry water and foam for an asked density."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Protocol

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix.volume import CEMENT_KG_M3, WATER_KG_M3, absolute_volume_m3, slurry_density_kg_m3

HYDRATED: Final = 1.2
"""Oven-dry mass of hardened neat cement over its cement: the cement binds a fifth of its mass in water (ASTM C869)."""

LEAST_SLURRY_WATER_CEMENT: Final = 0.30
"""Under this a neat slurry cannot be mixed in a drum (common practice, no source)."""


@dataclass(frozen=True)
class Proportions:
    """What one m3 of wet mix holds. Foam is air and water; its water is ``foam_kg``."""

    cement_kg: float
    slurry_water_kg: float
    foam_volume_m3: float
    foam_kg: float

    @property
    def total_water_kg(self) -> float:
        """Water of slurry and foam together, kg."""
        return self.slurry_water_kg + self.foam_kg

    @property
    def wet_density_kg_m3(self) -> float:
        """Density as poured: cement and all water."""
        return self.cement_kg + self.total_water_kg

    @property
    def oven_dry_density_kg_m3(self) -> float:
        """Density when hardened and dried in an oven: 1.2 x cement."""
        return HYDRATED * self.cement_kg

    @property
    def air_fraction(self) -> float:
        """Share of the volume that is air, 0 to 1."""
        return 1 - absolute_volume_m3((self.cement_kg, CEMENT_KG_M3), (self.total_water_kg, WATER_KG_M3))

    @property
    def slurry_water_cement(self) -> float:
        """Water / cement of the slurry, before the foam, by mass."""
        return self.slurry_water_kg / self.cement_kg

    @property
    def total_water_cement(self) -> float:
        """Water / cement of slurry and foam together, by mass."""
        return self.total_water_kg / self.cement_kg

    @property
    def slurry_density_kg_m3(self) -> float:
        """Density of the slurry before the foam: the first thing to weigh in the yard."""
        return slurry_density_kg_m3(self.slurry_water_cement)


class Asked(Protocol):
    """A mix as an order asks for it: one density and the water of its slurry."""

    @property
    def slurry_water_cement(self) -> float: ...  # noqa: D102
    @property
    def oven_dry_density_kg_m3(self) -> float | None: ...  # noqa: D102
    @property
    def wet_density_kg_m3(self) -> float | None: ...  # noqa: D102


def proportions_of(asked: Asked, foam_density_kg_m3: float) -> Proportions:
    """Proportions of a mix that an order asks for, with the foam of a site; as :func:`proportions`."""
    return proportions(
        slurry_water_cement=asked.slurry_water_cement,
        foam_density_kg_m3=foam_density_kg_m3,
        oven_dry_density_kg_m3=asked.oven_dry_density_kg_m3,
        wet_density_kg_m3=asked.wet_density_kg_m3,
    )


def proportions(
    *,
    slurry_water_cement: float,
    foam_density_kg_m3: float,
    oven_dry_density_kg_m3: float | None = None,
    wet_density_kg_m3: float | None = None,
) -> Proportions:
    """Cement, slurry water and foam in one m3 of wet mix, for one asked density.

    With cement C, slurry ratio s and foam of density g, foam fills what cement and slurry water leave:
    V = 1 - C/3150 - C s/1000. C is D/1.2 for an oven-dry density D, and solves W = C (1 + s) + g V for a wet
    density W.

    Parameters
    ----------
    slurry_water_cement : water / cement of the slurry by mass, >= 0.30.
    foam_density_kg_m3 : kg/m3 (or g/L), above 0 and under 1000.
    oven_dry_density_kg_m3, wet_density_kg_m3 : exactly one of them, above 0 (wet: above the foam's) and low
        enough to need foam.

    Returns
    -------
    The mix. Its masses add up to the wet density and its volumes to 1 m3.

    Raises
    ------
    BadInput : both densities, or none, are given.
    OutOfRange : an argument is outside the limits above; the reason and what to change are said.

    Source
    ------
    Absolute volumes; oven-dry density as in ASTM C869-91(R1999), table 1, footnote A;
    tests/published/test_c869_batch.py.
    """
    if (oven_dry_density_kg_m3 is None) == (wet_density_kg_m3 is None):
        raise BadInput(
            "a mix needs one density", todo="Write either oven_dry_density or wet_density, not both and not none."
        )
    _check_slurry(slurry_water_cement)
    _check_foam(foam_density_kg_m3)
    slurry = slurry_density_kg_m3(slurry_water_cement)
    dry_slurry = slurry / (1 + slurry_water_cement)  # cement in 1 m3 of slurry
    if oven_dry_density_kg_m3 is not None:
        asked = _Density("oven_dry_density", oven_dry_density_kg_m3, above=0, under=HYDRATED * dry_slurry)
        cement_kg = oven_dry_density_kg_m3 / HYDRATED
    else:
        assert wet_density_kg_m3 is not None
        asked = _Density("wet_density", wet_density_kg_m3, above=foam_density_kg_m3, under=slurry)
        # slurry and foam share the volume: W = x slurry + (1 - x) foam
        cement_kg = dry_slurry * (wet_density_kg_m3 - foam_density_kg_m3) / (slurry - foam_density_kg_m3)
    asked.check_cement(cement_kg)
    water_kg = cement_kg * slurry_water_cement
    foam_m3 = 1 - absolute_volume_m3((cement_kg, CEMENT_KG_M3), (water_kg, WATER_KG_M3))
    asked.check_foam(foam_m3)
    return Proportions(cement_kg, water_kg, foam_m3, foam_kg=foam_m3 * foam_density_kg_m3)


@dataclass(frozen=True)
class _Density:
    """An asked density and the two, both out of reach, between which it must lie."""

    name: str
    value: float
    above: float
    under: float

    def check_cement(self, cement_kg: float) -> None:
        if not 0 < cement_kg < math.inf:
            raise OutOfRange(
                f"{self.name} {self.value:g} kg/m3 leaves no room for cement: foam alone fills the whole volume",
                name=self.name,
                value=self.value,
                limit=self.above,
                unit="kg/m3",
                todo=f"Raise {self.name} to above {math.ceil(self.above)} kg/m3.",
            )

    def check_foam(self, foam_m3: float) -> None:
        if foam_m3 <= 0:
            raise OutOfRange(
                f"{self.name} {self.value:g} kg/m3 leaves no room for foam: cement and slurry water fill the volume",
                name=self.name,
                value=self.value,
                limit=self.under,
                unit="kg/m3",
                todo=f"Lower {self.name} to under {math.floor(self.under)} kg/m3, or lower slurry_water_cement.",
            )


def _check_slurry(ratio: float) -> None:
    if not LEAST_SLURRY_WATER_CEMENT <= ratio < math.inf:
        raise OutOfRange(
            f"slurry_water_cement {ratio:g} is too dry: it cannot be mixed, draws water out of the foam and breaks it",
            name="slurry_water_cement",
            value=ratio,
            limit=LEAST_SLURRY_WATER_CEMENT,
            todo="Write 0.30 or more; 0.45 to 0.60 is usual.",
        )


def _check_foam(density_kg_m3: float) -> None:
    if not 0 < density_kg_m3 < WATER_KG_M3:
        raise OutOfRange(
            f"foam of {density_kg_m3:g} g/L is not foam: foam is lighter than water and heavier than nothing",
            name="foam_density",
            value=density_kg_m3,
            limit=0 if density_kg_m3 <= 0 else WATER_KG_M3,
            unit="g/L",
            todo="Weigh the foam in a known container; 90 to 100 g/L is usual.",
        )
