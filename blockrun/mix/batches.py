"""The mixer loads a mix can be made up in, or the reason why there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from blockrun.errors import OutOfRange
from blockrun.mix.proportions import Proportions
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.site import Mixer, Site

SLACK_L: Final = 1e-6
"""A volume this far beyond a limit still keeps it: it is rounding, not mix."""


@dataclass(frozen=True)
class BatchSize:
    """One load of one mixer: what goes in, what comes out, and how long it takes."""

    bags: Fraction
    cement_kg: float
    slurry_water_kg: float
    """From the tap: what damp sand brings is taken off."""
    foam_l: float
    foam_kg: float
    agent_l: float
    yield_l: float
    room_l: float
    """What cavities, overfill included, can take of it: what it makes less what stays in the drum."""
    foam_min: int
    """From the foam going in to the pour."""
    foam_to_poured_min: int
    """From the foam going in to the last cavity filled: what ``pour_life`` limits."""
    length_min: int
    """From the slurry to the washed mixer."""


def batch_sizes(site: Site, mixer: Mixer, mix: Proportions) -> list[BatchSize]:
    """Every size of batch that a mixer can make of a mix, smallest first.

    Sizes are whole multiples of ``bag_step`` bags that make no less than ``least_volume`` and no more than
    ``usable_volume``, leave something to pour, and are in the moulds within ``pour_life``.

    Parameters
    ----------
    site : bag, foam generator and pour life.
    mixer : one of the site's.
    mix : the mix; its foam must be that of the site's generator.

    Returns
    -------
    The sizes, ascending; empty where :func:`why_no_batch` says why.

    Source
    ------
    Yard rule: b bags make b x bag / C of wet mix, with C kg of cement in each m3.
    """
    return [size for size in _sizes_held(site, mixer, mix) if _useful(size, site)]


def why_no_batch(site: Site, mixer: Mixer, mix: Proportions) -> OutOfRange | None:
    """Which limit leaves a mixer without a single batch of a mix, and what to change.

    Parameters
    ----------
    site, mixer, mix : as for :func:`batch_sizes`.

    Returns
    -------
    The fault, in the units the site prints in and named after the key to change: one of the mixer, or the rate of the
    foam generator; None where there
    is a batch.
    """
    held = _sizes_held(site, mixer, mix)
    if not held:
        return _why_none_held(site, mixer, mix)
    if any(_useful(size, site) for size in held):
        return None
    pourable = [size for size in held if size.room_l > SLACK_L]
    if not pourable:
        return OutOfRange(
            f"the largest batch, {in_bags(held[-1].bags)}, makes {_litres(held[-1].yield_l, site)}, and "
            f"{_litres(mixer.left_behind_l, site)} stays behind in the {mixer.name}",
            "Correct left_behind or usable_volume.",
            name="left_behind",
        )
    smallest = pourable[0]
    slow = smallest.foam_min > mixer.foam_time_min
    return OutOfRange(
        f"the smallest batch, {in_bags(smallest.bags)}, takes {smallest.foam_to_poured_min} min from foam to filled "
        f"moulds ({smallest.foam_min} min to make and blend {_litres(smallest.foam_l, site)} of foam, "
        f"{mixer.pour_time_min} min to pour), more than the pour_life of {site.pour_life_min:g} min",
        "Take a faster foam generator, or shorten pour_time." if slow else "Shorten foam_time or pour_time.",
        name="rate" if slow else "pour_time",
    )


def in_bags(bags: Fraction) -> str:
    """Bags as they are counted in the yard: ``1/2 bag``, ``1 bag``, ``2 1/2 bags``."""
    whole, rest = divmod(bags, 1)
    number = " ".join(str(part) for part in (whole, rest) if part) or "0"
    return f"{number} bag" if 0 < bags <= 1 else f"{number} bags"


def _sizes_held(site: Site, mixer: Mixer, mix: Proportions) -> list[BatchSize]:
    """Sizes between the least and the usable volume, ascending."""
    step_l = _yield_l(site, mixer.bag_step, mix)
    first = max(1, math.ceil((mixer.least_volume_l - SLACK_L) / step_l))
    last = math.floor((mixer.usable_volume_l + SLACK_L) / step_l)
    return [_size(site, mixer, mix, n * mixer.bag_step) for n in range(first, last + 1)]


def _useful(size: BatchSize, site: Site) -> bool:
    return size.room_l > SLACK_L and size.foam_to_poured_min <= site.pour_life_min


def _yield_l(site: Site, bags: Fraction, mix: Proportions) -> float:
    return float(bags) * site.stock.cement.bag_kg / mix.cement_kg * LITRES_PER_M3


def blending_min(foam_time_min: float, foam_l: float, rate_l_min: float) -> int:
    """To make and blend in so much foam: the slower of the two, whole minutes up."""
    return math.ceil(max(foam_time_min, (foam_l - SLACK_L) / rate_l_min))


def _size(site: Site, mixer: Mixer, mix: Proportions, bags: Fraction) -> BatchSize:
    generator = site.foam_generator
    cement_kg = float(bags) * site.stock.cement.bag_kg
    yield_l = _yield_l(site, bags, mix)
    foam_l = mix.foam_volume_m3 * yield_l
    foam_kg = mix.foam_kg * yield_l / LITRES_PER_M3
    foam_min = blending_min(mixer.foam_time_min, foam_l, generator.rate_l_min)
    foam_to_poured_min = foam_min + mixer.pour_time_min
    return BatchSize(
        bags=bags,
        cement_kg=cement_kg,
        slurry_water_kg=cement_kg * mix.tap_water_kg / mix.cement_kg,
        foam_l=foam_l,
        foam_kg=foam_kg,
        agent_l=foam_kg * generator.agent_share,  # a kilogram of foam is taken as a litre of diluted agent
        yield_l=yield_l,
        room_l=yield_l - mixer.left_behind_l,
        foam_min=foam_min,
        foam_to_poured_min=foam_to_poured_min,
        length_min=mixer.slurry_time_min + foam_to_poured_min + mixer.wash_time_min,
    )


def _why_none_held(site: Site, mixer: Mixer, mix: Proportions) -> OutOfRange:
    """Name the volume limits that the nearest whole steps break."""
    step_l = _yield_l(site, mixer.bag_step, mix)
    n_held = math.floor((mixer.usable_volume_l + SLACK_L) / step_l)
    too_large, too_small = (
        f"a batch of {in_bags(n * mixer.bag_step)} makes {_litres(n * step_l, site)}" for n in (n_held + 1, n_held)
    )
    too_large += f", more than the usable_volume of {_litres(mixer.usable_volume_l, site)}"
    too_small += f", less than the least_volume of {_litres(mixer.least_volume_l, site)}"
    what, todo = f"no step of bags fits: {too_small}, and {too_large}", "Write a smaller bag_step."
    if n_held == 0:
        what, todo = f"even {too_large}", "Write a smaller bag_step, or take a mixer that holds more."
    return OutOfRange(what, todo, name="bag_step")


def _litres(volume_l: float, site: Site) -> str:
    return show(volume_l, "volume", site.units)
