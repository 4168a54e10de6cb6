"""What to add to a slurry or a mix that is off, and whether there is time for it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from typing import Final

from blockrun.mix.batches import SLACK_L
from blockrun.mix.card import Card, Mixing
from blockrun.mix.contents import Contents, amount_to_reach, cement_of, foam_of, water_of

BUCKETFUL_L: Final = 10.0
"""So much slurry is mixed apart in a bucket, with a drill (our choice)."""

IN_A_BUCKET_MIN: Final = 5
"""To weigh and mix it there (our choice)."""


class Added(Enum):
    """What a correction adds."""

    WATER = "water"
    CEMENT = "cement"
    FOAM = "foam"
    SLURRY = "slurry"


@dataclass(frozen=True)
class Correction:
    """One thing to add, and what lies in the mixer after it."""

    what: Added
    added: Contents
    take_out_l: float
    """To be taken out first, so that the mixer holds what comes of it."""
    after: Contents
    takes_min: int
    latest_min: float
    """Minutes since the foam went in after which there is no time for it within the pour life."""


def mended_slurry(slurry: Contents, foam_kg_m3: float, card: Card, mixing: Mixing) -> tuple[Correction, ...]:
    """Bring a slurry to the density of its card: water where it is stiff; cement, then more foam, where it is thin."""
    due = card.slurry.wet_density_kg_m3
    stiff = slurry.wet_density_kg_m3 > due
    unit = water_of(1) if stiff else cement_of(1)
    added = unit * amount_to_reach(due, slurry, unit)
    what = Added.WATER if stiff else Added.CEMENT
    mended = Correction(what, added, 0.0, slurry + added, math.ceil(mixing.slurry_time_min), math.inf)
    if stiff:
        return (mended,)
    return (mended, _to_density(Added.FOAM, mended.after, foam_of(1, foam_kg_m3), card, mixing))


def mended_mix(found: Contents, foam_kg_m3: float, card: Card, mixing: Mixing) -> tuple[Correction, ...]:
    """Bring a mix to the wet density of its card: slurry where it is light, foam where it is heavy."""
    due = card.mix.wet_density_kg_m3
    if found.wet_density_kg_m3 < due:
        litre = card.slurry * (1 / card.slurry.volume_l)
        return (_to_density(Added.SLURRY, found, litre, card, mixing),)
    if foam_kg_m3 >= due:
        return ()
    return (_to_density(Added.FOAM, found, foam_of(1, foam_kg_m3), card, mixing),)


def _to_density(what: Added, here: Contents, litre: Contents, card: Card, mixing: Mixing) -> Correction:
    """Add litres until the density of the card is reached, of so much that the mixer holds it."""
    litres = amount_to_reach(card.mix.wet_density_kg_m3, here, litre)
    whole = here + litre * litres
    kept = min(1.0, mixing.usable_l / whole.volume_l) if whole.volume_l > mixing.usable_l + SLACK_L else 1.0
    takes = mixing.blending_min(litres * kept)
    if what is Added.SLURRY:  # mixed apart first
        mixes = IN_A_BUCKET_MIN if litres * kept <= BUCKETFUL_L else mixing.slurry_time_min
        takes = math.ceil(min(mixes, mixing.slurry_time_min) + mixing.foam_time_min)
    return Correction(
        what, litre * (litres * kept), (1 - kept) * here.volume_l, whole * kept, takes, mixing.pour_by_min - takes
    )
