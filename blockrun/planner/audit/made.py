"""What a batch must be, worked out again from its start, its bags and the cavities it is poured into."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.planner.audit.figures import BAG, ROUNDING, near
from blockrun.planner.audit.records import Batch, Cast

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.site import Mixer, Site


@dataclass(frozen=True)
class Made:
    """A batch as the meanings give it. Only its number, mixer, mix, start and bags are taken from the plan.

    Minutes count from midnight of the first day; kilograms and litres are of the whole batch, ``poured_l`` of its
    cavities with overfill.
    """

    row: Batch
    mixer: Mixer
    casts: tuple[Cast, ...]
    foam_at: int
    pour_from: int
    pour_to: int
    end: int
    bags: float
    cement_kg: float
    slurry_water_kg: float
    foam_l: float
    foam_kg: float
    agent_l: float
    yield_l: float
    poured_l: float

    @property
    def name(self) -> str:
        """Return the batch as sentences call it."""
        return f"batch {self.row.batch}"

    @property
    def start(self) -> int:
        """Minute at which it starts."""
        return self.row.start

    @property
    def water_kg(self) -> float:
        """Water of slurry and foam; the agent in the foam is not water."""
        return self.slurry_water_kg + self.foam_kg - self.agent_l


def make(row: Batch, site: Site, mixer: Mixer, mix: Proportions, casts: Sequence[Cast], blocks_l: float) -> Made:
    """Work a batch out again.

    Parameters
    ----------
    row : the batch as written.
    site : bag, generator and overfill.
    mixer : the one it names.
    mix : one cubic metre of its mix.
    casts : the blocks poured from it.
    blocks_l : volume of those blocks, and of all else that it filled, in litres, without overfill.
    """
    generator = site.foam_generator
    bags = whole_steps(row.bags, mixer)
    cement_kg = bags * site.stock.cement.bag_kg
    yield_l = cement_kg / mix.cement_kg * 1000
    foam_l = yield_l * mix.foam_volume_m3
    foam_kg = foam_l * generator.density_kg_m3 / 1000
    foam_at = row.start + mixer.slurry_time_min
    pour_from = foam_at + _foam_min(foam_l, mixer, site)
    pour_to = pour_from + mixer.pour_time_min
    return Made(
        row=row,
        mixer=mixer,
        casts=tuple(casts),
        foam_at=foam_at,
        pour_from=pour_from,
        pour_to=pour_to,
        end=pour_to + mixer.wash_time_min,
        bags=bags,
        cement_kg=cement_kg,
        slurry_water_kg=yield_l * (mix.slurry_water_kg - _brought_by(site) * mix.sand_kg) / 1000,
        foam_l=foam_l,
        foam_kg=foam_kg,
        agent_l=foam_kg * generator.agent_parts / (generator.agent_parts + generator.water_parts),
        yield_l=yield_l,
        poured_l=blocks_l * (1 + site.overfill),
    )


def _foam_min(foam_l: float, mixer: Mixer, site: Site) -> int:
    """Minutes to make and blend foam."""
    return max(mixer.foam_time_min, math.ceil((foam_l - ROUNDING) / site.foam_generator.rate_l_min))


def quickest_min(site: Site, mixer: Mixer, mix: Proportions) -> int | None:
    """Minutes from the foam to the last cavity, of the smallest batch of a mix that leaves something to pour.

    None where the mixer makes none: not even that one fits in, or is poured within the pour life.
    """
    step_l = float(mixer.bag_step) * site.stock.cement.bag_kg / mix.cement_kg * 1000
    for_paddle = math.ceil((mixer.least_volume_l - ROUNDING) / step_l)
    smallest_l = step_l * max(1, for_paddle, math.floor(mixer.left_behind_l / step_l) + 1)
    minutes = _foam_min(smallest_l * mix.foam_volume_m3, mixer, site) + mixer.pour_time_min
    makes_it = smallest_l <= mixer.usable_volume_l + ROUNDING and minutes <= site.pour_life_min
    return minutes if makes_it else None


def _brought_by(site: Site) -> float:
    """Water that a kilogram of dry sand brings with it: the tap gives so much less."""
    sand = site.stock.sand
    return 0.0 if sand is None or sand.moisture is None else sand.moisture


def whole_steps(bags: float, mixer: Mixer) -> float:
    """Bags as a whole number of the mixer's steps where they are printed like one, else as written."""
    stepped = float(round(bags / float(mixer.bag_step)) * mixer.bag_step)
    return stepped if near(bags, stepped, BAG) else bags
