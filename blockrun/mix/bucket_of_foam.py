"""The bucket of foam that is weighed before a batch: it takes dilution of its own, and is thrown away.

Foam is weighed before the cement is wetted for it. Until the slurry is mixed it is too old to go in, so a batch takes
agent and water for its foam and for that bucket (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.mix.volume import LITRES_PER_M3
from blockrun.units import in_unit

if TYPE_CHECKING:
    from blockrun.site import FoamGenerator, Site

BUCKET_L: Final = 10
BUCKET_GAL: Final = 2
"""What a check is weighed in where the site names no bucket (our choice)."""

LEAST_S: Final = 5
"""No clock in a yard tells less of a generator's run; a bucket is filled in less (our choice)."""


@dataclass(frozen=True)
class Dilution:
    """Foaming agent in water, litres of each; their volumes are taken to add up."""

    agent_l: float
    water_l: float

    @property
    def volume_l(self) -> float:
        """All of it."""
        return self.agent_l + self.water_l

    def __add__(self, other: Dilution) -> Dilution:
        """Both together."""
        return Dilution(self.agent_l + other.agent_l, self.water_l + other.water_l)


def usual_l(units: str) -> float:
    """Litres of the bucket that things are weighed in where the site names none."""
    return BUCKET_GAL / in_unit(1, "volume", "gal") if units == "US" else BUCKET_L


def dilution_of(foam_kg: float, generator: FoamGenerator) -> Dilution:
    """What so much foam is made of; a kilogram of it is taken as a litre."""
    agent_l = foam_kg * generator.agent_share
    return Dilution(agent_l, foam_kg - agent_l)


def foam_bucket_l(site: Site) -> float:
    """Litres of the bucket that foam is weighed in: as the site names it, else the usual one of its units."""
    return (site.buckets and site.buckets.foam_l) or usual_l(site.units)


def to_weigh_foam(site: Site) -> Dilution:
    """What one bucket of foam takes that is weighed and thrown away, at the density that foam is to have."""
    return dilution_of(foam_bucket_l(site) * site.foam_generator.density_kg_m3 / LITRES_PER_M3, site.foam_generator)
