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


@dataclass(frozen=True)
class Measures:
    """What the crew weighs, counts and times for one batch, in the units the site prints in."""

    bags: str
    cement: str
    slurry_water: str
    foam: str
    foam_mass: str
    agent: str
    dilution_water: str
    generator: str
    makes: str
    wet_density: str


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
    wet_kg = load.cement_kg + load.slurry_water_kg + load.foam_kg
    cement, slurry_water, foam_mass = (
        show(mass, "mass", units) for mass in (load.cement_kg, load.slurry_water_kg, load.foam_kg)
    )
    foam, makes = (show(volume, "volume", units) for volume in (load.foam_l, load.yield_l))
    # foam is air and diluted agent; a kilogram of the dilution is taken as a litre
    agent, dilution_water = (_by_jug(volume, units) for volume in (load.agent_l, load.foam_kg - load.agent_l))
    density = show(wet_kg / load.yield_l * LITRES_PER_M3, "density", units)
    seconds = round(load.foam_l / generator.rate_l_min * SECONDS_PER_MINUTE)
    return Measures(
        bags=glued(in_bags(bags)),
        cement=glued(cement),
        slurry_water=glued(slurry_water),
        foam=glued(foam),
        foam_mass=glued(foam_mass),
        agent=glued(agent),
        dilution_water=glued(dilution_water),
        generator=glued(f"{seconds} s"),
        makes=glued(makes),
        wet_density=glued(density),
    )


def _by_jug(volume_l: float, units: str) -> str:
    """Say a volume in the marks of the vessel it is measured in: a jug up to a litre or a gallon, then a bucket."""
    jug, bucket = ("fl oz", "gal") if units == "US" else ("mL", "L")
    unit = jug if in_unit(volume_l, "volume", bucket) < 1 else bucket
    return f"{digits(in_unit(volume_l, 'volume', unit))} {unit}"
