"""The check of a batch in the yard: pass, wait, correct or reject, and what to add."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum

from blockrun.mix.card import Card, Mixing
from blockrun.mix.contents import Contents, foam_of, water_of, water_told_by
from blockrun.mix.corrections import Added, Correction, mended_mix, mended_slurry
from blockrun.mix.out_of_line import Why, foam_that_ran, out_of_line
from blockrun.mix.seen import Seen, check_seen, check_weighed
from blockrun.mix.tolerances import Tolerances, is_off


class Verdict(Enum):
    """The answer to a check."""

    PASS = "pass"
    CARE = "pass with care"
    WAIT = "wait"
    CORRECT = "correct"
    REJECT = "reject"


class Wait(Enum):
    """What to do before anything else; nothing is lost yet."""

    COUNT = "measure the slurry again and count the bags"
    DOUBT = "weigh again: is it this batch, is it this mix?"
    FOAM = "bring the foam right and weigh it again"
    WARM = "warm the slurry before the foam goes in"
    COOL = "cool the slurry before the foam goes in"
    WEIGH = "weigh the mix now"
    RAN = "how long did the generator run?"


class Reject(Enum):
    """Why a batch is not to be poured, or its blocks are not to be used."""

    SANK = "it sank too far"
    OFF = "it is off its weight"
    DRY = "it dries to another density than was ordered"
    WATER = "it holds too much water"
    FOAM_LOST = "it breaks its foam"
    TOO_LATE = "its pour cannot end within its pour life"
    NO_TIME = "there is no time left to correct it"


@dataclass(frozen=True)
class Checked:
    """What a batch is, and what to do with it."""

    card: Card
    seen: Seen
    verdict: Verdict
    waits: tuple[Wait, ...]
    rejected: tuple[Reject, ...]
    off: tuple[Why, ...]
    """What was measured, beside the wet density, and is beyond its limit."""
    slurry: Contents
    """What went in before the foam: the card, with the water that the weighed slurry tells."""
    found: Contents | None
    """What the weighed mix says it is; None before the foam is in."""
    corrections: tuple[Correction, ...]
    needed: tuple[Correction, ...] = ()
    """What would bring the weight of a rejected batch right, and is not to be done."""

    @property
    def is_poured(self) -> bool:
        """Whether it has stood for an hour: nothing can be added then, and the pour life is over."""
        return self.seen.is_poured

    @property
    def foam_kg_m3(self) -> float:
        """Density of the foam: as it was weighed, else as the card has it."""
        seen = self.seen.foam_kg_m3
        return self.card.foam_density_kg_m3 if seen is None else seen

    @property
    def put_in(self) -> Contents:
        """All that went in, no bubble lost; foam by the seconds that ran where they are told, else as on the card."""
        return self.slurry + foam_of(foam_that_ran(self.card, self.seen), self.foam_kg_m3)

    @property
    def air_lost(self) -> float | None:
        """Share of the air put in that is gone; negative where there is more. None before the foam is in."""
        return None if self.found is None else 1 - self.found.air_l / self.put_in.air_l

    @property
    def comes_out(self) -> Contents | None:
        """What would be poured: the mix as found, or as its corrections make it."""
        steps = self.corrections or self.needed
        return steps[-1].after if self.found and steps else self.found

    def since_min(self, mixing: Mixing) -> float:
        """Minutes since the foam went in; of a weighed mix at least the time to blend it in."""
        if self.seen.since_foam_min is not None:
            return self.seen.since_foam_min
        return mixing.blending_min(self.card.foam_l) if self.found else 0.0


def check(
    card: Card, mixing: Mixing, seen: Seen, tolerances: Tolerances | None = None, *, units: str = "SI"
) -> Checked:
    """Say whether a batch may be poured, and what to add to it if not.

    A batch is to reach the wet density of its card, and dry to what was ordered, without too much water. Too heavy,
    foam is added; too light, slurry as on the card, where there is time for it. Where far more foam is missing than
    a batch loses, it is first asked how long the generator ran: foam that was never put in can be added, foam that
    breaks would go the same way. Foam that is off is put right before
    it goes in, and no slurry is thrown away for it. A slurry that is off gets water or cement.
    Once it has stood for an hour nothing can be added. Amounts are exact and take every bubble as kept, so weigh again.

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
    slurry, off = card.slurry + water_of(excess_kg), out_of_line(card, seen, mixing, allowed)
    base = Checked(card, seen, Verdict.PASS, (), (), off, slurry, None, ())
    if seen.wet_kg_m3 is not None:
        check_weighed(base.put_in, base.foam_kg_m3, seen.wet_kg_m3, units)
        base = replace(base, found=base.put_in.at_density(seen.wet_kg_m3))
    base = replace(base, waits=tuple(_waits(base, allowed)))
    corrected = replace(base, corrections=_corrections(base, mixing, allowed))
    rejected = tuple(_rejected(corrected, mixing, allowed))
    if rejected:
        needed = corrected.corrections
        return replace(corrected, verdict=Verdict.REJECT, rejected=rejected, corrections=(), needed=needed, waits=())
    return replace(corrected, verdict=_verdict(corrected))


def is_too_wet(mix: Contents | None, card: Card, allowed: Tolerances) -> bool:
    """Whether a mix holds so much more water than its card that it is not to be poured."""
    return mix is not None and mix.total_water_cement > card.mix.total_water_cement * (1 + allowed.water)


def _verdict(checked: Checked) -> Verdict:
    if checked.corrections:
        return Verdict.CORRECT
    if checked.waits:
        return Verdict.WAIT
    return Verdict.CARE if checked.off else Verdict.PASS


def _waits(base: Checked, allowed: Tolerances) -> Iterator[Wait]:
    """What to do first; once foam and slurry are together they are judged by what the mix weighs."""
    if base.is_poured:
        return
    if base.found is not None:
        is_wrong = is_off(base.found.wet_density_kg_m3, base.card.mix.wet_density_kg_m3, allowed.wet)
        if is_wrong and (base.air_lost or 0.0) < -allowed.foam_lost:
            yield Wait.DOUBT
        if is_wrong and (base.air_lost or 0.0) > allowed.foam_lost and base.seen.ran_s is None:
            yield Wait.RAN
        return
    if base.seen.foam_is_in:
        yield Wait.WEIGH
        return
    told = {
        Wait.COUNT: not _is_believed(base, allowed),
        Wait.FOAM: Why.FOAM_WET in base.off or Why.FOAM_DRY in base.off,
        Wait.WARM: Why.COLD in base.off,
        Wait.COOL: Why.HOT in base.off,
    }
    yield from (wait for wait, holds in told.items() if holds)


def _is_believed(base: Checked, allowed: Tolerances) -> bool:
    """Whether the water that a weighed slurry tells may be a slip."""
    return not is_off(base.slurry.water_kg, base.card.slurry.water_kg, allowed.slip)


def _corrections(base: Checked, mixing: Mixing, allowed: Tolerances) -> tuple[Correction, ...]:
    card, found = base.card, base.found
    if base.is_poured or {Wait.COUNT, Wait.DOUBT, Wait.WEIGH, Wait.RAN} & set(base.waits):
        return ()
    if found is not None:
        is_right = not is_off(found.wet_density_kg_m3, card.mix.wet_density_kg_m3, allowed.wet)
        return () if is_right else mended_mix(found, base.foam_kg_m3, card, mixing)
    if not is_off(base.seen.slurry_kg_m3, card.slurry.wet_density_kg_m3, allowed.slurry):
        return ()
    steps = mended_slurry(base.slurry, card.foam_density_kg_m3, card, mixing)
    return tuple(step for step in steps if not (Wait.FOAM in base.waits and step.what is Added.FOAM))


def _rejected(checked: Checked, mixing: Mixing, allowed: Tolerances) -> Iterator[Reject]:
    if Wait.DOUBT in checked.waits:
        return
    seen, since, out = checked.seen, checked.since_min(mixing), checked.comes_out
    mix, is_poured = checked.card.mix, checked.is_poured
    lost = not is_poured and bool(checked.corrections) and (checked.air_lost or 0.0) > allowed.foam_lost
    is_in = checked.found is not None or seen.foam_is_in
    too_late = not is_poured and is_in and since > mixing.pour_by_min
    told = {
        Reject.SANK: seen.sank is not None and seen.sank > allowed.sank * (1 + 1e-9),
        Reject.FOAM_LOST: lost,
        Reject.OFF: out is not None and is_off(out.wet_density_kg_m3, mix.wet_density_kg_m3, allowed.wet),
        Reject.DRY: out is not None and is_off(out.oven_dry_density_kg_m3, mix.oven_dry_density_kg_m3, allowed.wet),
        Reject.WATER: is_too_wet(out, checked.card, allowed),
        Reject.TOO_LATE: too_late,
        Reject.NO_TIME: not too_late and any(since > step.latest_min for step in checked.corrections) and is_in,
    }
    reasons = [reason for reason, holds in told.items() if holds]
    if Wait.RAN in checked.waits:  # what it is, and what it needs, is known when that is known
        reasons = [reason for reason in reasons if reason is Reject.TOO_LATE]
    # one fault of the weight is enough: what is off when wet is off when dry
    yield from (reason for reason in reasons if not (reason is Reject.DRY and Reject.OFF in reasons))
