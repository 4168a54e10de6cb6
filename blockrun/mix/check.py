"""The check of a batch in the yard: pass, correct or reject, and what to add."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

from blockrun.mix.batches import SLACK_L
from blockrun.mix.card import Card, Mixing
from blockrun.mix.contents import Contents, amount_to_reach, cement_of, foam_of, water_of, water_told_by
from blockrun.mix.seen import Seen, check_seen, check_weighed


@dataclass(frozen=True)
class Tolerances:
    """How far from its card a batch may be; all defaults are our choice.

    Parameters
    ----------
    wet : of the wet density, a share. ASTM C869 allows 7.5 % (3 in 40 lb/ft3).
    foam : of the foam's density, a share: 95 g/L so passes from 90 to 100, which is common practice, no source.
    slurry : of the slurry's density, a share: about 0.035 of its water/cement.
    sank : share of the height lost in an hour.
    foam_lost : share of the air put in; where more is lost, foam added would go the same way.
    coldest_c, warmest_c : of the slurry, degC (from memory: ACI 306 asks 13 degC of thin sections).
    mixed : share of the time to blend the foam in over which mixing was long.
    """

    wet: float = 0.05
    foam: float = 0.06
    slurry: float = 0.02
    sank: float = 0.03
    foam_lost: float = 0.30
    coldest_c: float = 10.0
    warmest_c: float = 30.0
    mixed: float = 0.5


class Verdict(Enum):
    """The answer to a check."""

    PASS = "pass"
    CORRECT = "correct"
    REJECT = "reject"


class Reject(Enum):
    """Why a batch is not to be poured, or its blocks are not to be used."""

    SANK = "it sank too far"
    OFF = "it was poured off its weight"
    FOAM_LOST = "it breaks its foam"
    TOO_LATE = "its pour life is over"
    NO_TIME = "there is no time left to correct it"
    NO_FOAM = "the foam is heavier than the mix is to be"


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


@dataclass(frozen=True)
class Checked:
    """What a batch is, and what to do with it."""

    card: Card
    seen: Seen
    verdict: Verdict
    rejected: tuple[Reject, ...]
    slurry: Contents
    """What went in before the foam: the card, with the water that the weighed slurry tells."""
    found: Contents | None
    """What the weighed mix says it is; None before the foam is in."""
    corrections: tuple[Correction, ...]

    @property
    def is_poured(self) -> bool:
        """Whether it has stood for an hour: nothing can be added then, and the pour life is over."""
        return self.seen.sank is not None

    @property
    def foam_kg_m3(self) -> float:
        """Density of the foam: as it was weighed, else as the card has it."""
        seen = self.seen.foam_kg_m3
        return self.card.foam_density_kg_m3 if seen is None else seen

    @property
    def put_in(self) -> Contents:
        """All that went in, no bubble lost, the foam as many litres as the card says."""
        return self.slurry + foam_of(self.card.foam_l, self.foam_kg_m3)

    @property
    def air_lost(self) -> float | None:
        """Share of the air put in that is gone; negative where there is more. None before the foam is in."""
        return None if self.found is None else 1 - self.found.air_l / self.put_in.air_l


def check(
    card: Card, mixing: Mixing, seen: Seen, tolerances: Tolerances | None = None, *, units: str = "SI"
) -> Checked:
    """Say whether a batch may be poured, and what to add to it if not.

    The wet density of the card is what a batch is to reach. Too heavy, foam is added; too light, slurry as on the card.
    Once it has stood for an hour nothing can be added: it passes or not.
    Foam or slurry weighed before they are brought together: water or cement is added to the slurry, and the foam is
    that with which the batch comes out right. Amounts are exact and take every bubble as kept, so weigh again.

    Parameters
    ----------
    card, mixing : the batch as planned.
    seen : what was measured; at least one thing.
    tolerances : the defaults unless told.
    units : ``SI`` or ``US``, for the words of a refusal.

    Returns
    -------
    The answer. A correction never makes more than the mixer holds: what is too much is taken out first.

    Raises
    ------
    BadInput : nothing was measured.
    OutOfRange : a measurement that cannot be: a mix heavier than its slurry or lighter than its foam, times under
        nought, a sinking outside 0 to 1.

    Source
    ------
    Mass and volume balance; yield and air by weighing as in ASTM C138. What passes: `Tolerances`.
    """
    allowed = tolerances or Tolerances()
    check_seen(card, seen, units)
    excess_kg = 0.0 if seen.slurry_kg_m3 is None else water_told_by(card.slurry, seen.slurry_kg_m3)
    base = Checked(card, seen, Verdict.PASS, (), card.slurry + water_of(excess_kg), None, ())
    if seen.wet_kg_m3 is None:
        mends = () if base.is_poured else _before_the_foam(base, mixing, allowed)
        corrected = replace(base, corrections=mends)
    else:
        check_weighed(base.put_in, base.foam_kg_m3, seen.wet_kg_m3, units)
        found = replace(base, found=base.put_in.at_density(seen.wet_kg_m3))
        corrected = replace(found, corrections=_with_foam(found, mixing, allowed))
    rejected = tuple(_rejected(corrected, mixing, allowed))
    if rejected:
        return replace(corrected, verdict=Verdict.REJECT, rejected=rejected, corrections=())
    return replace(corrected, verdict=Verdict.CORRECT if corrected.corrections else Verdict.PASS)


def is_off(value: float | None, due: float, share: float) -> bool:
    """Whether a value was measured and is further from what is due than a share of that."""
    return value is not None and abs(value - due) > due * share * (1 + 1e-9)


def _before_the_foam(base: Checked, mixing: Mixing, allowed: Tolerances) -> tuple[Correction, ...]:
    """Mend the slurry where it is off; then the foam with which the batch comes out right."""
    card, seen, slurry = base.card, base.seen, base.slurry
    first: tuple[Correction, ...] = ()
    if is_off(seen.slurry_kg_m3, card.slurry.wet_density_kg_m3, allowed.slurry):
        first = (_mended_slurry(slurry, card, mixing),)
        slurry = first[0].after
    if not first and not is_off(seen.foam_kg_m3, card.foam_density_kg_m3, allowed.foam):
        return ()
    if base.foam_kg_m3 >= card.mix.wet_density_kg_m3:
        return first
    return (*first, _to_density(Added.FOAM, slurry, foam_of(1, base.foam_kg_m3), card, mixing))


def _mended_slurry(slurry: Contents, card: Card, mixing: Mixing) -> Correction:
    """Bring a slurry to the density of its card, with water where it is stiff and cement where it is thin."""
    due = card.slurry.wet_density_kg_m3
    stiff = slurry.wet_density_kg_m3 > due
    unit = water_of(1) if stiff else cement_of(1)
    added = unit * amount_to_reach(due, slurry, unit)
    what = Added.WATER if stiff else Added.CEMENT
    return Correction(what, added, 0.0, slurry + added, math.ceil(mixing.slurry_time_min), math.inf)


def _with_foam(base: Checked, mixing: Mixing, allowed: Tolerances) -> tuple[Correction, ...]:
    card, found = base.card, base.found
    due = card.mix.wet_density_kg_m3
    if found is None or not is_off(found.wet_density_kg_m3, due, allowed.wet):
        return ()
    if found.wet_density_kg_m3 < due:
        litre = card.slurry * (1 / card.slurry.volume_l)
        return (_to_density(Added.SLURRY, found, litre, card, mixing),)
    if base.foam_kg_m3 >= due:
        return ()
    return (_to_density(Added.FOAM, found, foam_of(1, base.foam_kg_m3), card, mixing),)


def _to_density(what: Added, here: Contents, litre: Contents, card: Card, mixing: Mixing) -> Correction:
    """Add litres until the density of the card is reached, of so much that the mixer holds it."""
    litres = amount_to_reach(card.mix.wet_density_kg_m3, here, litre)
    whole = here + litre * litres
    kept = min(1.0, mixing.usable_l / whole.volume_l) if whole.volume_l > mixing.usable_l + SLACK_L else 1.0
    takes = mixing.blending_min(litres * kept)
    if what is Added.SLURRY:  # mixed apart first
        takes = math.ceil(mixing.slurry_time_min + mixing.foam_time_min)
    latest = mixing.pour_life_min - takes - mixing.pour_time_min
    return Correction(what, litre * (litres * kept), (1 - kept) * here.volume_l, whole * kept, takes, latest)


def _rejected(checked: Checked, mixing: Mixing, allowed: Tolerances) -> list[Reject]:
    seen, since = checked.seen, checked.seen.since_foam_min
    too_late = since is not None and since > mixing.pour_life_min
    told = {
        Reject.SANK: seen.sank is not None and seen.sank > allowed.sank * (1 + 1e-9),
        Reject.OFF: checked.is_poured and bool(checked.corrections),
        Reject.FOAM_LOST: bool(checked.corrections) and (checked.air_lost or 0.0) > allowed.foam_lost,
        Reject.TOO_LATE: too_late and not checked.is_poured,
        Reject.NO_TIME: not (too_late or checked.is_poured)
        and any((since or 0.0) > step.latest_min for step in checked.corrections),
        Reject.NO_FOAM: checked.foam_kg_m3 >= checked.card.mix.wet_density_kg_m3,
    }
    return [reason for reason, holds in told.items() if holds]
