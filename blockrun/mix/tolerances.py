"""How far from its card a batch may be: one set of limits for cards, checks and trials."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.site import Buckets


@dataclass(frozen=True)
class Tolerances:
    """How far from its card a batch may be; all defaults are our choice.

    Parameters
    ----------
    wet : of the wet density, a share, and of the oven-dry density. ASTM C869 allows 7.5 % (3 in 40 lb/ft3).
    foam : of the foam's density, a share: 95 g/L so passes from 90 to 100, which is common practice, no source.
    slurry : of the slurry's density, a share: about 0.035 of its water/cement.
    water : share of the total water/cement by which a mix may be over its card.
    slip : share of the slurry's water that may be missing or over; beyond it, it is no slip of the measuring cup.
    sank : share of the height lost in an hour.
    foam_lost : share of the air put in; where more is lost, foam added would go the same way. Where more has
        come, it is another mix, or another batch.
    coldest_c, warmest_c : of the slurry, degC (from memory: ACI 306 asks 13 degC of thin sections).
    mixed : share of the time to blend the foam in over which mixing was long.
    """

    wet: float = 0.05
    foam: float = 0.06
    slurry: float = 0.02
    water: float = 0.15
    slip: float = 0.20
    sank: float = 0.03
    foam_lost: float = 0.30
    coldest_c: float = 10.0
    warmest_c: float = 30.0
    mixed: float = 0.5


def tolerances_of(buckets: Buckets | None) -> Tolerances:
    """The limits of a site: its ``tolerance`` for the mix; for foam and slurry too where it is closer than usual."""
    usual = Tolerances()
    if buckets is None:
        return usual
    share = buckets.tolerance
    foam = share if share < usual.wet else usual.foam
    return Tolerances(wet=share, foam=foam, slurry=min(share, usual.slurry))


def is_off(value: float | None, due: float, share: float) -> bool:
    """Whether a value was measured and is further from what is due than a share of that."""
    return value is not None and abs(value - due) > due * share * (1 + 1e-9)
