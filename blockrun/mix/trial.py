"""The trial batch: what a bucket of the mix really was, and what to change next."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final

from blockrun.mix.card import Card, Mixing
from blockrun.mix.check import Checked, check
from blockrun.mix.contents import Contents, foam_of, water_of
from blockrun.mix.out_of_line import Why
from blockrun.mix.refusals import LEAST_SLURRY_WATER
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances, is_off
from blockrun.mix.volume import LITRES_PER_M3, WATER_KG_M3

STIFFER: Final = 0.05
"""What to take off the slurry's water/cement when a trial sinks, a trial at a time (our choice)."""

LEAST_FLOWING: Final = 0.35
"""Water / cement, fly ash and lime of a slurry that a trial does not stiffen: stiffer ones break foam (our choice)."""

BY_HAND: Final = Mixing(1e9, 1e9, 0.0, 0.0, 0.0, 1e9)
"""A trial is mixed by hand: nothing of the mixer or the clock limits it."""


class Advice(Enum):
    """What to do after a trial, one change at a time."""

    NOTHING = "nothing"
    WEIGH = "weigh"
    COUNT = "count"
    REPEAT_WATER = "repeat water"
    REPEAT_FOAM = "repeat foam"
    REPEAT_WARM = "repeat warm"
    CAUSE = "cause"
    FOAM = "foam"
    STIFFER = "stiffer"


@dataclass(frozen=True)
class Next:
    """What to put into the next batch of the same size.

    Parameters
    ----------
    slurry_water_kg, foam_l : to put in.
    made : what comes of it once the same share of air is lost.
    """

    slurry_water_kg: float
    foam_l: float
    made: Contents


@dataclass(frozen=True)
class Tried:
    """What a trial batch was.

    Parameters
    ----------
    checked : the check of it, as of any batch.
    after_hour : what it was after an hour, all that sank being air lost; None where nobody looked.
    advice : what to do.
    after : what to put in next, where the advice is to change it; else None.
    """

    checked: Checked
    after_hour: Contents | None
    advice: Advice
    after: Next | None


def tried(card: Card, seen: Seen, tolerances: Tolerances | None = None, *, units: str = "SI") -> Tried:
    """Say what a trial batch really was and what to change, one thing at a time.

    Whatever was not as on the card is put right first, and the card repeated. Only a trial made as on its card
    changes it: a mix that is off gets foam for the air it loses; one of the right weight that sinks, a stiffer slurry.

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
    lost of it; or, where it is made stiffer, the same but for that water.

    Raises
    ------
    BadInput, OutOfRange : as :func:`blockrun.mix.check.check`.

    Source
    ------
    Mass and volume balance; a loss of a share x of the air makes D / (1 - x air) of a density D. One change at a
    time, and the card repeated first: common practice, no source.
    """
    allowed = tolerances or Tolerances()
    checked = check(card, BY_HAND, seen, allowed, units=units)
    found = checked.found
    after_hour = None
    if found is not None and seen.sank is not None:
        after_hour = found.at_density(found.wet_density_kg_m3 / (1 - seen.sank))
    advice, after = _advice(checked, allowed), None
    if advice is Advice.FOAM:
        after = _with_more_foam(checked)
        if _water_powder(card, after.slurry_water_kg) < LEAST_SLURRY_WATER:
            advice, after = Advice.CAUSE, None
    elif advice is Advice.STIFFER:
        after = _stiffer(card)
    return Tried(checked, after_hour, advice, after)


def _advice(checked: Checked, allowed: Tolerances) -> Advice:
    """The first thing that is wrong says what to do."""
    card, seen, off, found = checked.card, checked.seen, set(checked.off), checked.found
    sank = seen.sank is not None and seen.sank > allowed.sank
    is_light_or_heavy = is_off(seen.wet_kg_m3, card.mix.wet_density_kg_m3, allowed.wet)
    told = {
        Advice.COUNT: (checked.air_lost or 0.0) < -allowed.foam_lost,
        Advice.REPEAT_WATER: bool(off & {Why.SLURRY_WET, Why.SLURRY_DRY}),
        Advice.REPEAT_FOAM: bool(off & {Why.FOAM_WET, Why.FOAM_DRY}),
        Advice.REPEAT_WARM: bool(off & {Why.HOT, Why.COLD}),
        Advice.WEIGH: found is None and seen.foam_kg_m3 is None and seen.slurry_kg_m3 is None,
        Advice.CAUSE: (checked.air_lost or 0.0) > allowed.foam_lost,
        Advice.FOAM: is_light_or_heavy,
        Advice.STIFFER: sank and _water_powder(card, card.slurry_water_kg - STIFFER * card.slurry.cement_kg)
        >= LEAST_FLOWING,
    }  # fmt: skip
    first = next((advice for advice, holds in told.items() if holds), Advice.NOTHING)
    return Advice.CAUSE if first is Advice.NOTHING and sank else first


def _water_powder(card: Card, slurry_water_kg: float) -> float:
    """Water of the slurry / all that wants water."""
    return slurry_water_kg / (card.mix.powder_kg * card.makes_l / LITRES_PER_M3)


def _with_more_foam(checked: Checked) -> Next:
    """Solve for the foam whose air, as far as it is kept, is the air due, and give the slurry what water is left.

    Air due A, foam of density g of which a share k of the air stays: foam = A / (k (1 - g/1000)), and the slurry's
    water is what is due less the foam's.
    """
    due, density, kept = checked.card.whole, checked.foam_kg_m3, 1 - (checked.air_lost or 0.0)
    foam = foam_of(due.air_l / (kept * (1 - density / WATER_KG_M3)), density)
    return Next(due.water_kg - foam.mass_kg, foam.volume_l, due)


def _stiffer(card: Card) -> Next:
    """Take water off the slurry; as many litres of foam as make the same volume."""
    water_kg = STIFFER * card.slurry.cement_kg
    made = card.whole + water_of(-water_kg)
    short = foam_of(card.makes_l - made.volume_l, card.foam_density_kg_m3)
    return Next(card.slurry_water_kg - water_kg, card.foam_l + short.volume_l, made + short)
