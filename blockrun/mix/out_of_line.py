"""What was measured of a batch and is beyond its limit."""

from __future__ import annotations

from enum import Enum
from typing import Final

from blockrun.mix.card import Card, Mixing
from blockrun.mix.contents import Contents, foam_of
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances, is_off

READABLE: Final = 0.01
"""Share of the wet density that a bucket on a scale tells apart (our choice)."""


class Why(Enum):
    """What may have gone wrong."""

    FOAM_WET = "foam too wet"
    FOAM_DRY = "foam too dry"
    SLURRY_WET = "slurry too wet"
    SLURRY_DRY = "slurry too dry"
    WAITED = "waited too long"
    MIXED_LONG = "mixed too long"
    MIXED_SHORT = "foam not blended in"
    HOT = "too hot"
    COLD = "too cold"
    AGENT = "agent not mixed through, or wrongly diluted"
    FOAM_SHORT = "less foam than the card says"
    FOAM_OVER = "more foam than the card says"
    AT_ODDS = "what it weighs and the seconds that ran do not agree"
    WEIGHED = "the weighing, or the bags"
    DIRT = "oil or dirt in the drum, or foam made too early"
    MOULD = "the mould leaks, or was filled too deep at once"
    SOAP = "household soap without glycerine"
    PADDLE = "wrong paddle, or vibrating"


def foam_that_ran(card: Card, seen: Seen) -> float:
    """Litres of foam that went in: by the seconds that the generator ran where they are told, else as on the card."""
    return card.foam_l if seen.ran_s is None else seen.ran_s / 60 * card.generator.rate_l_min


def with_foam_that_ran(card: Card, seen: Seen) -> Contents:
    """The batch as the seconds that ran make it, all else as on the card."""
    return card.slurry + foam_of(foam_that_ran(card, seen), card.foam_density_kg_m3)


def _at_odds(card: Card, seen: Seen) -> bool:
    """Whether the seconds that ran would make a mix heavy that is light, or the other way round."""
    due = card.mix.wet_density_kg_m3
    if seen.wet_kg_m3 is None or not is_off(seen.wet_kg_m3, due, READABLE):
        return False
    return (seen.wet_kg_m3 > due) != (with_foam_that_ran(card, seen).wet_density_kg_m3 > due)


def out_of_line(card: Card, seen: Seen, mixing: Mixing, allowed: Tolerances) -> tuple[Why, ...]:
    """List what was measured beside the wet density and is beyond its limit.

    Parameters
    ----------
    card, mixing : the batch as planned.
    seen : what was measured.
    allowed : the limits.
    """
    foam, slurry = seen.foam_kg_m3 or 0.0, seen.slurry_kg_m3 or 0.0
    foam_due, slurry_due = card.foam_density_kg_m3, card.slurry.wet_density_kg_m3
    blending, foam_l = mixing.blending_min(card.foam_l), foam_that_ran(card, seen)
    other_foam, at_odds = is_off(foam_l, card.foam_l, allowed.foam), _at_odds(card, seen)
    since, mixed, warm = seen.since_foam_min, seen.mixed_min, seen.slurry_c
    told = {
        Why.FOAM_WET: is_off(seen.foam_kg_m3, foam_due, allowed.foam) and foam > foam_due,
        Why.FOAM_DRY: is_off(seen.foam_kg_m3, foam_due, allowed.foam) and foam < foam_due,
        Why.SLURRY_WET: is_off(seen.slurry_kg_m3, slurry_due, allowed.slurry) and slurry < slurry_due,
        Why.SLURRY_DRY: is_off(seen.slurry_kg_m3, slurry_due, allowed.slurry) and slurry > slurry_due,
        Why.AT_ODDS: other_foam and at_odds,
        Why.FOAM_SHORT: other_foam and not at_odds and foam_l < card.foam_l,
        Why.FOAM_OVER: other_foam and not at_odds and foam_l > card.foam_l,
        Why.WAITED: since is not None and not seen.is_poured and since > mixing.pour_by_min,
        Why.MIXED_LONG: mixed is not None and mixed > blending * (1 + allowed.mixed),
        Why.MIXED_SHORT: mixed is not None and mixed < mixing.foam_time_min,
        Why.HOT: warm is not None and warm > allowed.warmest_c,
        Why.COLD: warm is not None and warm < allowed.coldest_c,
    }
    return tuple(why for why, holds in told.items() if holds)
