"""Why a batch is not what its card says: likely causes in order, with what each would have done by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Final

from blockrun.mix.card import Mixing
from blockrun.mix.check import Checked, Tolerances, is_off
from blockrun.mix.contents import Contents, amount_to_reach, foam_of, water_of, water_told_by
from blockrun.mix.volume import WATER_KG_M3

MOSTLY: Final = 0.5
"""A cause that does so much of the difference by itself is named first (our choice)."""

BELIEVED: Final = 0.2
"""Water or foam further off its card than this share is no slip of measuring (our choice)."""


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
    SOAP = "household soap without glycerine"
    PADDLE = "wrong paddle, or vibrating"


PRACTICE: Final = frozenset(
    {Why.WAITED, Why.MIXED_LONG, Why.MIXED_SHORT, Why.HOT, Why.COLD, Why.AGENT, Why.SOAP, Why.PADDLE}
)
"""Causes that are known from the yard alone: common practice, no source."""


@dataclass(frozen=True)
class Cause:
    """One thing that may have gone wrong, and the figures behind it; None for what does not apply.

    Parameters
    ----------
    why : the cause.
    measured : whether something measured shows it; else it is one to look into.
    found, due : the figure that shows it and what it is to be, in the unit of the figure: kg/m3 of foam or slurry,
        minutes, degC, litres of foam or agent.
    water_kg : brought over the card; negative where missing.
    total_water_cement : which that makes.
    wet_kg_m3 : the wet density that this alone would have made of the card.
    share : of the difference in wet density that this does by itself; negative where it pulls the other way.
    """

    why: Why
    measured: bool
    found: float | None = None
    due: float | None = None
    water_kg: float | None = None
    total_water_cement: float | None = None
    wet_kg_m3: float | None = None
    share: float | None = None

    @property
    def is_practice(self) -> bool:
        """Whether it is a rule of the yard, without a source."""
        return self.why in PRACTICE


def causes(checked: Checked, mixing: Mixing, tolerances: Tolerances | None = None) -> list[Cause]:
    """List what may have gone wrong with a batch, the likeliest first.

    First what was measured and does most of the difference by itself, then what else was measured, then what nobody
    measured, then what was measured and pulls the other way.

    Parameters
    ----------
    checked : what :func:`blockrun.mix.check.check` found.
    mixing, tolerances : as it was given.

    Returns
    -------
    The causes; none where all that was measured is within its tolerance.

    Source
    ------
    The figures: mass and volume balance. That wet foam thins the slurry and lets bubbles rise, that long mixing, a
    wrong paddle and vibrating merge bubbles, that agent settles in its drum, that soap wants glycerine: common
    practice, no source. That a stiff slurry draws water from foam: Nambiar and Ramamurthy 2008, second-hand.
    """
    allowed = tolerances or Tolerances()
    trouble = _trouble(checked, allowed)
    measured = list(_measured(checked, mixing, allowed))
    if not trouble and not measured:
        return []
    every = [*measured, *_not_measured(checked, trouble, allowed)]
    return sorted(every, key=_rank)  # in the order listed, where of equal rank


class _Trouble(Enum):
    HEAVY = 1
    LIGHT = 2
    SANK = 3


def _trouble(checked: Checked, allowed: Tolerances) -> _Trouble | None:
    seen, due = checked.seen, checked.card.mix.wet_density_kg_m3
    if seen.wet_kg_m3 is not None and is_off(seen.wet_kg_m3, due, allowed.wet):
        return _Trouble.HEAVY if seen.wet_kg_m3 > due else _Trouble.LIGHT
    return _Trouble.SANK if seen.sank is not None and seen.sank > allowed.sank else None


def _rank(cause: Cause) -> int:
    if not cause.measured:
        return 2
    if cause.share is None:
        return 1
    return 0 if cause.share >= MOSTLY else 1 if cause.share >= 0 else 3


def _measured(checked: Checked, mixing: Mixing, allowed: Tolerances) -> Iterator[Cause]:
    card, seen = checked.card, checked.seen
    if seen.foam_kg_m3 is not None and is_off(seen.foam_kg_m3, card.foam_density_kg_m3, allowed.foam):
        wet = seen.foam_kg_m3 > card.foam_density_kg_m3
        alone = card.slurry + foam_of(card.foam_l, seen.foam_kg_m3)
        why = Why.FOAM_WET if wet else Why.FOAM_DRY
        yield _by(checked, why, alone, (seen.foam_kg_m3, card.foam_density_kg_m3), allowed)
    slurry_due = card.slurry.wet_density_kg_m3
    if seen.slurry_kg_m3 is not None and is_off(seen.slurry_kg_m3, slurry_due, allowed.slurry):
        alone = card.whole + water_of(water_told_by(card.slurry, seen.slurry_kg_m3))
        why = Why.SLURRY_WET if seen.slurry_kg_m3 < slurry_due else Why.SLURRY_DRY
        yield _by(checked, why, alone, (seen.slurry_kg_m3, slurry_due), allowed)
    yield from _times(checked, mixing, allowed)
    if seen.slurry_c is not None and seen.slurry_c > allowed.warmest_c:
        yield Cause(Why.HOT, True, seen.slurry_c, allowed.warmest_c)
    if seen.slurry_c is not None and seen.slurry_c < allowed.coldest_c:
        yield Cause(Why.COLD, True, seen.slurry_c, allowed.coldest_c)


def _times(checked: Checked, mixing: Mixing, allowed: Tolerances) -> Iterator[Cause]:
    seen, blending = checked.seen, mixing.blending_min(checked.card.foam_l)
    latest = mixing.pour_life_min - mixing.pour_time_min
    if seen.since_foam_min is not None and seen.sank is None and seen.since_foam_min > latest:
        yield Cause(Why.WAITED, True, seen.since_foam_min, latest)
    if seen.mixed_min is not None and seen.mixed_min > blending * (1 + allowed.mixed):
        yield Cause(Why.MIXED_LONG, True, seen.mixed_min, blending)
    if seen.mixed_min is not None and seen.mixed_min < mixing.foam_time_min:
        yield Cause(Why.MIXED_SHORT, True, seen.mixed_min, mixing.foam_time_min)


def _not_measured(checked: Checked, trouble: _Trouble | None, allowed: Tolerances) -> Iterator[Cause]:
    agent = Cause(Why.AGENT, False, due=checked.card.agent_l)
    soap, paddle = Cause(Why.SOAP, False), Cause(Why.PADDLE, False)
    if trouble is _Trouble.LIGHT:
        yield from (*_other_foam(checked), *_other_water(checked), paddle, agent)
    elif trouble is _Trouble.HEAVY:
        yield from (agent, *_other_foam(checked), *_other_water(checked, else_look_at=Why.SLURRY_DRY), soap, paddle)
    elif trouble is _Trouble.SANK:
        yield from (agent, *_other_water(checked, else_look_at=Why.SLURRY_WET), soap, paddle)
    elif is_off(checked.seen.foam_kg_m3, checked.card.foam_density_kg_m3, allowed.foam):
        yield agent


def _other_foam(checked: Checked) -> Iterator[Cause]:
    """The foam that makes all the difference, where it may have been that."""
    card, found = checked.card, checked.found
    if found is None:
        return
    litres = amount_to_reach(found.wet_density_kg_m3, checked.slurry, foam_of(1, checked.foam_kg_m3))
    if litres > 0:
        yield Cause(Why.FOAM_SHORT if litres < card.foam_l else Why.FOAM_OVER, False, litres, card.foam_l)


def _other_water(checked: Checked, else_look_at: Why | None = None) -> Iterator[Cause]:
    """The water that makes all the difference, where nobody weighed the slurry and it may have been that.

    Where it may not, a slurry to look at all the same: a stiff one breaks bubbles, a thin one lets them rise.
    """
    if checked.seen.slurry_kg_m3 is not None:
        return
    due, water_kg = checked.card.slurry.wet_density_kg_m3, _water_believed(checked)
    if water_kg:
        total = (checked.put_in.water_kg + water_kg) / checked.put_in.cement_kg
        why = Why.SLURRY_WET if water_kg > 0 else Why.SLURRY_DRY
        yield Cause(why, False, due=due, water_kg=water_kg, total_water_cement=total)
    elif else_look_at:
        yield Cause(else_look_at, False, due=due)


def _water_believed(checked: Checked) -> float | None:
    """Water over the card that gives the density found; None where none does, or nobody mistakes so much."""
    found = checked.found
    if found is None or abs(found.wet_density_kg_m3 - WATER_KG_M3) < 1:  # water changes nothing then
        return None
    water_kg = amount_to_reach(found.wet_density_kg_m3, checked.put_in, water_of(1))
    return water_kg if abs(water_kg) <= BELIEVED * checked.card.slurry_water_kg else None


def _by(checked: Checked, why: Why, alone: Contents, figures: tuple[float, float], allowed: Tolerances) -> Cause:
    """A cause whose figures, found and due, make this of the card by itself; its share where there is a difference."""
    planned, wet = checked.card.whole, checked.seen.wet_kg_m3
    share = None
    if wet is not None and is_off(wet, planned.wet_density_kg_m3, allowed.wet):
        share = (alone.wet_density_kg_m3 - planned.wet_density_kg_m3) / (wet - planned.wet_density_kg_m3)
    return Cause(
        why, True, *figures,
        water_kg=alone.water_kg - planned.water_kg,
        total_water_cement=alone.total_water_cement,
        wet_kg_m3=alone.wet_density_kg_m3,
        share=share,
    )  # fmt: skip
