"""A batch as its card has it, before anything is weighed, and what the mixer and the clock allow it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from blockrun.errors import OutOfRange
from blockrun.mix.batches import SLACK_L, blending_min, in_bags
from blockrun.mix.contents import Contents, foam_of, slurry_of
from blockrun.mix.proportions import Proportions
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.site import FoamGenerator, Mixer, Site


@dataclass(frozen=True)
class Card:
    """So many litres of a mix, as they are to be made.

    Parameters
    ----------
    mix : its proportions, with the foam as the site has it.
    makes_l : what it makes, > 0.
    generator : makes its foam.
    """

    mix: Proportions
    makes_l: float
    generator: FoamGenerator

    @property
    def foam_density_kg_m3(self) -> float:
        """What its foam is to weigh: as last weighed, else as named."""
        return self.generator.density_kg_m3

    @property
    def foam_l(self) -> float:
        """Foam to put in."""
        return self.mix.foam_volume_m3 * self.makes_l

    @property
    def agent_l(self) -> float:
        """Foaming agent its foam takes."""
        return agent_in(foam_of(self.foam_l, self.foam_density_kg_m3), self.generator)

    @property
    def slurry(self) -> Contents:
        """All of it but the foam."""
        return slurry_of(self.mix, self.makes_l)

    @property
    def slurry_water_kg(self) -> float:
        """All water of the slurry, that of damp sand with it."""
        return self.slurry.water_kg

    @property
    def tap_water_kg(self) -> float:
        """Water to measure into the slurry: its water less what damp sand brings."""
        return self.slurry_water_kg - self.sand_water_kg

    @property
    def sand_water_kg(self) -> float:
        """Water that damp sand brings."""
        return self.mix.sand_water_kg * self.makes_l / LITRES_PER_M3

    @property
    def whole(self) -> Contents:
        """All of it, no bubble lost."""
        return self.slurry + foam_of(self.foam_l, self.foam_density_kg_m3)


@dataclass(frozen=True)
class Mixing:
    """What a mixer holds, and how long its batches take and may take.

    Parameters
    ----------
    usable_l : it can hold, foam in, > 0.
    rate_l_min : foam that the generator makes, > 0.
    slurry_time_min, foam_time_min, pour_time_min : to mix the slurry, to blend the foam in, to pour, >= 0.
    pour_life_min : from the foam going in to the last cavity filled, > 0.
    """

    usable_l: float
    rate_l_min: float
    slurry_time_min: float
    foam_time_min: float
    pour_time_min: float
    pour_life_min: float

    @property
    def pour_by_min(self) -> float:
        """Minutes since the foam went in by which the pour is to begin, so that it ends within the pour life."""
        return self.pour_life_min - self.pour_time_min

    def blending_min(self, foam_l: float) -> int:
        """To make and blend in so much foam, as for any batch: the slower of the two, whole minutes up."""
        return blending_min(self.foam_time_min, foam_l, self.rate_l_min)


def agent_in(foam: Contents, generator: FoamGenerator) -> float:
    """Foaming agent in so much foam, litres; a kilogram of the dilution is taken as a litre."""
    return foam.mass_kg * generator.agent_share


def card_of_bags(site: Site, mix: Proportions, bags: Fraction) -> Card:
    """The card of so many bags of cement.

    Parameters
    ----------
    site : bag and foam generator.
    mix : with the foam of the site.
    bags : > 0.
    """
    makes_l = float(bags) * site.stock.cement.bag_kg / mix.cement_kg * LITRES_PER_M3
    return Card(mix, makes_l, site.foam_generator)


def mixing_in(site: Site, mixer: Mixer) -> Mixing:
    """What a mixer of a site allows."""
    return Mixing(
        mixer.usable_volume_l,
        site.foam_generator.rate_l_min,
        mixer.slurry_time_min,
        mixer.foam_time_min,
        mixer.pour_time_min,
        site.pour_life_min,
    )


def check_held(card: Card, bags: Fraction, mixer: Mixer, units: str) -> None:
    """Refuse a batch that its mixer cannot hold.

    Raises
    ------
    OutOfRange : it makes more than ``usable_volume``.
    """
    if card.makes_l > mixer.usable_volume_l + SLACK_L:
        makes, holds = (show(litres, "volume", units) for litres in (card.makes_l, mixer.usable_volume_l))
        what = f"{in_bags(bags)} of this mix make {makes}, and the {mixer.name} holds {holds}"
        raise OutOfRange(what, "Correct the number of bags.", name="bags", value=card.makes_l, unit="L")
