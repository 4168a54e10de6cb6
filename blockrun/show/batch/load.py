"""The things to measure for one batch, from the scales to the clock of the foam generator."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final

from blockrun.mix.batches import in_bags
from blockrun.mix.bucket_of_foam import LEAST_S, Dilution, dilution_of, to_weigh_foam, usual_l
from blockrun.mix.dilution import tank_of
from blockrun.mix.proportions import SAND
from blockrun.mix.tolerances import tolerances_of
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.show.batch.buckets import Weighs, buckets_of, full_bucket, in_buckets, small_l
from blockrun.show.measures import WATER_KG_L, by_mass, by_scale, by_volume, shares_by_volume
from blockrun.show.page import glued
from blockrun.units import counted, show

if TYPE_CHECKING:
    from blockrun.mix import BatchSize, Proportions
    from blockrun.site import FoamGenerator, Site

SECONDS_PER_MINUTE: Final = 60
MOST_WEIGHED: Final = 0.5
"""Of a batch no more than this share is weighed at once: of a small one a litre or a quart (our choice)."""
BY_THE_MARK: Final = "by the mark of a bucket"


@dataclass(frozen=True)
class Measures:
    """What the crew weighs, counts and times for one batch, in the units the site prints in.

    Attributes
    ----------
    bags : ``3 bags``.
    cement : what they hold, ``75 kg``.
    solids : what is weighed beside it, and how much: ``sand``, ``37.5 kg``.
    water, water_counted : for the slurry, ``33.8 L``; and `` = 3 buckets of 10 L and 3.8 L``, empty without buckets.
    foam, foam_mass : how much of it.
    foam_check, mix_check : what a full bucket of it weighs.
    agent, agent_water : what is made up for it, ``122 mL`` in ``4.86 L``: for its foam, and for the bucket weighed.
    in_all : the two together and what each takes of it, ``4.98 L in all: 4.03 L for foam, 0.95 L to weigh``.
    dilution : all of it in words; with a tank, what is taken out of that.
    refills : with a tank that does not last: how often it is filled while the foam runs, and after how long.
    generator : how long it runs, in whole seconds, to the nearest.
    by_the_clock : whether anybody can time that.
    makes : how much mix.
    """

    bags: str
    cement: str
    solids: tuple[tuple[str, str], ...]
    water: str
    water_counted: str
    foam: str
    foam_mass: str
    foam_check: str
    agent: str
    agent_water: str
    in_all: str
    dilution: str
    refills: str
    generator: str
    by_the_clock: bool
    makes: str
    mix_check: str

    @property
    def runs(self) -> str:
        """``run the generator 118 s``; of foam too little to time, how to measure it."""
        if self.by_the_clock:
            return f"run the generator {self.generator}"
        return f"{BY_THE_MARK}: {self.generator} of the generator are too little to time"

    @property
    def slurry(self) -> str:
        """What the bags hold and what goes with them: ``of cement (75 kg), 37.5 kg of sand, 33.8 L of water``."""
        solids = (f"{weight} of {what}" for what, weight in self.solids)
        return ", ".join([f"of cement ({self.cement})", *solids, f"{self.water} of water{self.water_counted}"])


def measures(load: BatchSize | Any, bags: Fraction, mix: Proportions, site: Site) -> Measures:
    """Put the measures of a batch into words.

    Parameters
    ----------
    load : a size of batch, or a row of ``batches``, whose columns bear the same names.
    bags : cement, in bags.
    mix : one cubic metre of it.
    site : its foam generator, its buckets, and the units it prints in.
    """
    units, generator = site.units, site.foam_generator
    water_l = load.slurry_water_kg / WATER_KG_L
    weighed = to_weigh_foam(site)
    made_up = dilution_of(load.foam_kg, generator) + weighed
    seconds = load.foam_l / generator.rate_l_min * SECONDS_PER_MINUTE
    return Measures(
        bags=glued(in_bags(bags)),
        cement=glued(show(load.cement_kg, "mass", units)),
        solids=tuple(_solids(mix, load.yield_l, units)),
        water=by_volume(water_l, units),
        water_counted=in_buckets(water_l, buckets_of(site).water_l, units),
        foam=by_volume(load.foam_l, units) + in_buckets(load.foam_l, buckets_of(site).foam_l, units),
        foam_mass=by_mass(load.foam_kg, units),
        foam_check=foam_check(site),
        agent=by_volume(made_up.agent_l, units),
        agent_water=by_volume(made_up.water_l, units),
        in_all=_in_all(load, weighed, units),
        dilution=_dilution(load, made_up, weighed, site),
        refills=_refills(load, weighed, generator),
        generator=glued(f"{round(seconds)} s"),
        by_the_clock=seconds >= LEAST_S,
        makes=by_volume(load.yield_l, units),
        mix_check=mix_check(mix, site, most_to_weigh_l(load.yield_l)),
    )


def most_to_weigh_l(makes_l: float) -> float:
    """The most that is taken out of a batch to be weighed, litres."""
    return makes_l * MOST_WEIGHED


def foam_weighs(site: Site, most_l: float = math.inf) -> Weighs:
    """Between what a full bucket of foam weighs; of no more than is there, a litre or a quart of it."""
    density = site.foam_generator.density_kg_m3
    return _full(density, site, buckets_of(site).foam_l, tolerances_of(site.buckets).foam, most_l)


def mix_weighs(mix: Proportions, site: Site, most_l: float = math.inf) -> Weighs:
    """Between what a full bucket of wet mix weighs."""
    tolerance = tolerances_of(site.buckets).wet
    return _full(mix.wet_density_kg_m3, site, buckets_of(site).mix_l, tolerance, most_l)


def foam_check(site: Site, most_l: float = math.inf) -> str:
    """Say between what a full bucket of foam weighs."""
    return foam_weighs(site, most_l).said("foam")


def slurry_check(mix: Proportions, site: Site, most_l: float = math.inf) -> str:
    """Say between what a full bucket of slurry weighs: closer than other things, as a little water says much."""
    tolerance = tolerances_of(site.buckets).slurry
    return _full(mix.slurry_density_kg_m3, site, buckets_of(site).mix_l, tolerance, most_l).said("slurry")


def mix_check(mix: Proportions, site: Site, most_l: float = math.inf) -> str:
    """Say between what a full bucket of wet mix weighs."""
    return mix_weighs(mix, site, most_l).said("mix")


def _full(density_kg_m3: float, site: Site, bucket_l: float | None, tolerance: float, most_l: float) -> Weighs:
    """A full bucket, within what `check` lets pass, so that card and check agree; of little, a small container."""
    held_l, empty_kg = container_for(site, bucket_l, most_l)
    buckets = buckets_of(site).model_copy(update={"tolerance": tolerance, "empty_kg": empty_kg})
    bucket_l = bucket_l if held_l == (bucket_l or usual_l(site.units)) else held_l
    return full_bucket(density_kg_m3 / LITRES_PER_M3, site.units, buckets, bucket_l)


def container_for(site: Site, bucket_l: float | None, most_l: float) -> tuple[float, float]:
    """Litres of what is weighed in, and what it weighs empty: a bucket, or of no more than is there a small one."""
    held_l = bucket_l or usual_l(site.units)
    if held_l > most_l * (1 + 1e-9):
        return small_l(site.units), 0.0
    return held_l, buckets_of(site).empty_kg


def solids_said(mix: Proportions, makes_l: float, units: str) -> Iterator[str]:
    """Say what to weigh beside the cement for so many litres of a mix; sand as damp as it lies."""
    yield from (f"{weight} of {what}" for what, weight in _solids(mix, makes_l, units))


def _solids(mix: Proportions, makes_l: float, units: str) -> Iterator[tuple[str, str]]:
    for name, mass_kg in mix.weighed.items():
        damp = "damp " if name == SAND and mix.sand_moisture else ""
        yield f"{damp}{name}", by_scale(mass_kg * makes_l / LITRES_PER_M3, units)


def _dilution(load: BatchSize | Any, made_up: Dilution, weighed: Dilution, site: Site) -> str:
    """What is made up or taken, and of it what the bucket weighed takes."""
    generator, units = site.foam_generator, site.units
    if tank_of(generator) is None:
        return f"{dilution_said(made_up, units)}, {_in_all(load, weighed, units)}"
    refills = _refills(load, weighed, generator)
    foam, bucket = by_volume(load.foam_kg, units), by_volume(weighed.volume_l, units)
    return f"it takes {foam} and the bucket weighed {bucket} out of the tank" + (f": {refills}" if refills else "")


def _in_all(load: BatchSize | Any, weighed: Dilution, units: str) -> str:
    whole, foam, bucket = shares_by_volume((load.foam_kg, weighed.volume_l), units)
    return f"{whole} in all: {foam} for foam, {bucket} to weigh"


def dilution_said(dilution: Dilution, units: str) -> str:
    """``122 mL of agent in 4.86 L of water``."""
    return f"{by_volume(dilution.agent_l, units)} of agent in {by_volume(dilution.water_l, units)} of water"


def _refills(load: BatchSize | Any, weighed: Dilution, generator: FoamGenerator) -> str:
    """``fill that again 2 times while it runs, as full it lasts 80 s``; empty where one filling does, or no tank is."""
    tank = tank_of(generator)
    again = tank.fillings(weighed.volume_l + load.foam_kg) - 1 if tank else 0
    if tank is None or again < 1:
        return ""
    lasts_s = tank.volume_l / load.foam_kg * load.foam_l / generator.rate_l_min * SECONDS_PER_MINUTE
    lasts = f"as full it lasts {glued(f'{lasts_s:.0f} s')}"
    return f"fill that again {counted(again, 'time')} while it runs, {lasts}"


def tank_said(generator: FoamGenerator, units: str) -> str:
    """Say how a full tank is made up; empty where there is none."""
    tank = tank_of(generator)
    if tank is None:
        return ""
    agent, water = by_volume(tank.agent_l, units), by_volume(tank.water_l, units)
    return f"{by_volume(tank.volume_l, units)}: {agent} of agent in {water} of water"
