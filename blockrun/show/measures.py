"""The things to measure for one batch, from the scales to the clock of the foam generator."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from blockrun.mix import BatchSize
from blockrun.mix.batches import in_bags
from blockrun.show.page import glued
from blockrun.site import FoamGenerator
from blockrun.units import digits, in_unit, show

LITRES_PER_M3: Final = 1000
SECONDS_PER_MINUTE: Final = 60
WATER_KG_L: Final = 1
FROM_HERE_WHOLE: Final = 100


@dataclass(frozen=True)
class Measures:
    """What the crew weighs, counts and times for one batch, in the units the site prints in."""

    bags: str
    cement: str
    slurry_water: str
    foam: str
    foam_mass: str
    foam_check: str
    agent: str
    dilution_water: str
    generator: str
    makes: str
    mix_check: str


BUCKET_L: Final = 10
BUCKET_GAL: Final = 2
"""What a check is weighed in: the bucket of a yard (our choice)."""


def measures(load: BatchSize | Any, bags: Fraction, generator: FoamGenerator, units: str) -> Measures:
    """Put the measures of a batch into words.

    Parameters
    ----------
    load : a size of batch, or a row of ``batches``, whose columns bear the same names.
    bags : cement, in bags.
    generator : makes its foam.
    units : ``SI`` or ``US``.

    Returns
    -------
    Words, each a number and its unit on one line; the generator's time in whole seconds, to the nearest.
    """
    wet_kg_l = (load.cement_kg + load.slurry_water_kg + load.foam_kg) / load.yield_l
    return Measures(
        bags=glued(in_bags(bags)),
        cement=glued(show(load.cement_kg, "mass", units)),
        slurry_water=by_volume(load.slurry_water_kg / WATER_KG_L, units),
        foam=by_volume(load.foam_l, units),
        foam_mass=by_mass(load.foam_kg, units),
        foam_check=bucket(generator.foam_density_kg_m3 / LITRES_PER_M3, "foam", units),
        agent=by_volume(load.agent_l, units),
        # foam is air and diluted agent; a kilogram of the dilution is taken as a litre
        dilution_water=by_volume(load.foam_kg - load.agent_l, units),
        generator=glued(f"{round(load.foam_l / generator.rate_l_min * SECONDS_PER_MINUTE)} s"),
        makes=by_volume(load.yield_l, units),
        mix_check=bucket(wet_kg_l, "mix", units),
    )


def bucket(density_kg_l: float, what: str, units: str) -> str:
    """Say what a bucketful must weigh, the bucket itself not counted.

    Parameters
    ----------
    density_kg_l : kilograms a litre.
    what : ``mix`` or ``foam``.
    units : ``SI`` or ``US``.

    Returns
    -------
    Such as ``10 L of mix weigh 8.1 kg``: to a tenth, under 1 to two digits; no scale of the yard shows more.
    """
    unit, volume, mass = ("gal", BUCKET_GAL, "lb") if units == "US" else ("L", BUCKET_L, "kg")
    weight = in_unit(density_kg_l * volume / in_unit(1, "volume", unit), "mass", mass)
    digits_said = f"{weight:.1f}" if weight >= 1 else f"{weight:.2g}"
    return f"{glued(f'{volume} {unit}')} of {what} weigh {glued(f'{digits_said} {mass}')}"


def by_volume(volume_l: float, units: str) -> str:
    """Say a volume in the marks of the vessel it is measured in: a jug's for little, else a bucket's."""
    jug, bucket, full_jug = ("fl oz", "gal", 0.25) if units == "US" else ("mL", "L", 1)
    little = in_unit(volume_l, "volume", bucket) < full_jug
    return _in_unit(volume_l, "volume", jug if little else bucket)


def by_mass(mass_kg: float, units: str) -> str:
    """Say a mass as :func:`by_volume` says a volume."""
    return _in_unit(mass_kg, "mass", "lb" if units == "US" else "kg")


def by_density(density_kg_m3: float, units: str) -> str:
    """Say a density as :func:`by_volume` says a volume."""
    return _in_unit(density_kg_m3, "density", "lb/ft3" if units == "US" else "kg/m3")


def _in_unit(value: float, dimension: str, unit: str) -> str:
    """To three digits, from a hundred up to the whole unit: no scale or jug of the yard shows more."""
    amount = in_unit(value, dimension, unit)
    return glued(f"{amount:.0f} {unit}" if amount >= FROM_HERE_WHOLE else f"{digits(float(f'{amount:.3g}'))} {unit}")
