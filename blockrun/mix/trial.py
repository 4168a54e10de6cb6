"""The trial batch: what a bucket of the mix really was, and what to change next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from blockrun.mix.card import Card, Mixing
from blockrun.mix.check import Checked, Tolerances, check
from blockrun.mix.contents import Contents, foam_of, water_of
from blockrun.mix.seen import Seen

STIFFER: Final = 0.05
"""What to take off the slurry's water/cement when a trial sinks, a trial at a time (our choice)."""

LEAST_SLURRY_WATER: Final = 0.30
"""Water / cement, fly ash and lime under which a slurry cannot be mixed (common practice, no source)."""

BY_HAND: Final = Mixing(1e9, 1e9, 0.0, 0.0, 0.0, 1e9)
"""A trial is mixed by hand: nothing of the mixer or the clock limits it."""


@dataclass(frozen=True)
class Next:
    """What to put into the next batch of the same size, with the foam and the loss as they were found.

    Parameters
    ----------
    slurry_water_kg, foam_l, foam_kg_m3 : to put in.
    made : what comes of it once the same share of air is lost.
    stiffer : what was taken off the slurry's water/cement because the trial sank; 0 where it stood.
    too_dry : the foam brings so much water that the slurry left cannot be mixed; dry the foam first.
    """

    slurry_water_kg: float
    foam_l: float
    foam_kg_m3: float
    made: Contents
    stiffer: float
    too_dry: bool


@dataclass(frozen=True)
class Tried:
    """What a trial batch was.

    Parameters
    ----------
    checked : the check of it, as of any batch.
    after_hour : what it was after an hour, all that sank being air lost; None where nobody looked.
    after : what to put in next; None where nothing was weighed, or where it breaks so much foam that the cause
        is to be found first.
    """

    checked: Checked
    after_hour: Contents | None
    after: Next | None


def tried(card: Card, seen: Seen, tolerances: Tolerances | None = None, *, units: str = "SI") -> Tried:
    """Say what a trial batch really was and what to change.

    Parameters
    ----------
    card : of the size that was tried.
    seen : what was measured of it, at least one thing.
    tolerances : the defaults unless told.
    units : ``SI`` or ``US``, for the words of a refusal.

    Returns
    -------
    What it was. The next batch holds the same cement and solids, and makes what the card says: the same
    litres, oven-dry density and total water, the foam's own water taken out of the slurry, and foam enough for what is
    lost of it.

    Raises
    ------
    BadInput, OutOfRange : as :func:`blockrun.mix.check.check`.

    Source
    ------
    Mass and volume balance; a loss of a share x of the air makes D / (1 - x air) of a density D.
    """
    allowed = tolerances or Tolerances()
    checked = check(card, BY_HAND, seen, allowed, units=units)
    sank = seen.sank or 0.0
    found = checked.found
    after_hour = None if found is None or seen.sank is None else found.at_density(found.wet_density_kg_m3 / (1 - sank))
    lost = checked.air_lost or 0.0
    if (found is None and seen.foam_kg_m3 is None) or lost > allowed.foam_lost:
        return Tried(checked, after_hour, None)
    return Tried(checked, after_hour, _next(checked, 1 - lost, STIFFER if sank > allowed.sank else 0.0))


def density_after_loss(wet_density_kg_m3: float, air_fraction: float, lost: float) -> float:
    """Wet density once a share of the air is gone: D / (1 - x A).

    Parameters
    ----------
    wet_density_kg_m3 : before, > 0.
    air_fraction : share of the volume that is air, 0 to 1.
    lost : share of that air which is lost, 0 to 1.
    """
    return wet_density_kg_m3 / (1 - lost * air_fraction)


def _next(checked: Checked, kept: float, stiffer: float) -> Next:
    """Solve for the foam whose air, as far as it is kept, is the air due, and give the slurry what water is left.

    Air due A, foam of density g of which a share k of the air stays: foam = A / (k (1 - g/1000)), and the slurry's
    water is what is due less the foam's.
    """
    card, density = checked.card, checked.foam_kg_m3
    due = card.whole + _apart(water_of(-stiffer * card.slurry.cement_kg))
    foam = foam_of(due.air_l / (kept * (1 - density / 1000)), density)
    water_kg = due.water_kg - foam.mass_kg
    powder_kg = card.mix.powder_kg * card.makes_l / 1000
    return Next(water_kg, foam.volume_l, density, due, stiffer, too_dry=water_kg < LEAST_SLURRY_WATER * powder_kg)


def _apart(water: Contents) -> Contents:
    """Water changed at the same volume of mix: air takes its place, and cement to the litre stays what it is."""
    return Contents(water.cement_kg, water.water_kg, water.mass_kg, water.air_free_l, water.oven_dry_kg, 0.0)
