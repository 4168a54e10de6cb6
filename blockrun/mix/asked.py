"""A mix as an order asks for it, and the cubic metre that answers it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from blockrun.errors import OutOfRange
from blockrun.mix.proportions import Proportions, proportions
from blockrun.mix.solids import Solids
from blockrun.units import show

DensityFor = Callable[[float], float]
"""The oven-dry density in kg/m3 at which the yard's own cubes reach a strength in MPa."""


class Asked(Protocol):
    """A mix as an order asks for it: one density or strength, one ratio of water, and solids beside the cement."""

    @property
    def slurry_water_cement(self) -> float | None: ...  # noqa: D102
    @property
    def water_cement(self) -> float | None: ...  # noqa: D102
    @property
    def oven_dry_density_kg_m3(self) -> float | None: ...  # noqa: D102
    @property
    def wet_density_kg_m3(self) -> float | None: ...  # noqa: D102
    @property
    def strength_mpa(self) -> float | None: ...  # noqa: D102
    @property
    def sand(self) -> float: ...  # noqa: D102
    @property
    def fly_ash(self) -> float: ...  # noqa: D102
    @property
    def lime(self) -> float: ...  # noqa: D102
    @property
    def fibre(self) -> float: ...  # noqa: D102
    @property
    def sand_density_kg_m3(self) -> float | None: ...  # noqa: D102
    @property
    def fly_ash_density_kg_m3(self) -> float | None: ...  # noqa: D102
    @property
    def lime_density_kg_m3(self) -> float | None: ...  # noqa: D102
    @property
    def fibre_density_kg_m3(self) -> float | None: ...  # noqa: D102


def proportions_of(
    asked: Asked,
    foam_density_kg_m3: float,
    density_for: DensityFor | None = None,
    sand_moisture: float = 0.0,
    *,
    units: str,
) -> Proportions:
    """Proportions of a mix that an order asks for, with the foam of a site; as :func:`proportions`.

    Parameters
    ----------
    asked : the mix.
    foam_density_kg_m3 : as last weighed.
    density_for : needed for a mix that is asked for by its strength.
    sand_moisture : water in the sand of the yard, a share of its dry mass.
    units : of what a refusal says, ``SI`` or ``US``.

    Raises
    ------
    OutOfRange : also where a strength is asked for and no cubes tell which density it takes.
    """
    oven_dry = asked.oven_dry_density_kg_m3
    if asked.strength_mpa is not None:
        oven_dry = _density_for(asked.strength_mpa, density_for, units)
    return proportions(
        slurry_water_cement=asked.slurry_water_cement,
        water_cement=asked.water_cement,
        foam_density_kg_m3=foam_density_kg_m3,
        oven_dry_density_kg_m3=oven_dry,
        wet_density_kg_m3=asked.wet_density_kg_m3,
        solids=solids_of(asked),
        sand_moisture=sand_moisture,
    )


def solids_of(asked: Asked) -> Solids:
    """What goes into the mix beside its cement; densities not told are those of :class:`Solids`."""
    densities = {
        "sand_density_kg_m3": asked.sand_density_kg_m3,
        "fly_ash_density_kg_m3": asked.fly_ash_density_kg_m3,
        "lime_density_kg_m3": asked.lime_density_kg_m3,
        "fibre_density_kg_m3": asked.fibre_density_kg_m3,
    }
    told = {name: density for name, density in densities.items() if density is not None}
    return Solids(asked.sand, asked.fly_ash, asked.lime, asked.fibre, **told)


def _density_for(strength_mpa: float, density_for: DensityFor | None, units: str) -> float:
    if density_for is None:
        raise OutOfRange(
            f"no cubes of this yard tell which density gives {show(strength_mpa, 'strength', units)}",
            "Cast cubes of three densities at least, three of each, crush them at 28 days, and name the list of them "
            "as cubes under curing in the site; until then write a density.",
            name="strength",
            value=strength_mpa,
            unit="MPa",
        )
    return density_for(strength_mpa)
