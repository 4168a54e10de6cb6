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
    return Measures(
        bags=glued(in_bags(bags)),
        cement=glued(show(load.cement_kg, "mass", units)),
        slurry_water=_by_volume(load.slurry_water_kg / WATER_KG_L, units),
        foam=_by_volume(load.foam_l, units),
        foam_mass=_in_unit(load.foam_kg, "mass", "lb" if units == "US" else "kg"),
        agent=_by_volume(load.agent_l, units),
        # foam is air and diluted agent; a kilogram of the dilution is taken as a litre
        dilution_water=_by_volume(load.foam_kg - load.agent_l, units),
        generator=glued(f"{round(load.foam_l / generator.rate_l_min * SECONDS_PER_MINUTE)} s"),
        makes=_by_volume(load.yield_l, units),
        wet_density=glued(show(wet_kg / load.yield_l * LITRES_PER_M3, "density", units)),
    )


def _by_volume(volume_l: float, units: str) -> str:
    """A volume in the marks of the vessel it is measured in: a jug's for little, else a bucket's."""
    jug, bucket, full_jug = ("fl oz", "gal", 0.25) if units == "US" else ("mL", "L", 1)
    little = in_unit(volume_l, "volume", bucket) < full_jug
    return _in_unit(volume_l, "volume", jug if little else bucket)


def _in_unit(value: float, dimension: str, unit: str) -> str:
    """To three significant digits: no scale or jug of the yard shows more."""
    return glued(f"{digits(float(f'{in_unit(value, dimension, unit):.3g}'))} {unit}")
