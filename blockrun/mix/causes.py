"""Why a batch is not what its card says: likely causes in order, with what each would have done by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from blockrun.mix.card import Mixing
from blockrun.mix.check import Checked, is_too_wet
from blockrun.mix.contents import Contents, amount_to_reach, foam_of, water_of, water_told_by
from blockrun.mix.out_of_line import Why, foam_that_ran, with_foam_that_ran
from blockrun.mix.tolerances import Tolerances, is_off
from blockrun.mix.volume import WATER_KG_M3

MOSTLY: Final = 0.5
"""A cause that does so much of the difference by itself is named first (our choice)."""

PRACTICE: Final = frozenset(
    {
        Why.WAITED,
        Why.MIXED_LONG,
        Why.MIXED_SHORT,
        Why.HOT,
        Why.COLD,
        Why.AGENT,
        Why.WEIGHED,
        Why.DIRT,
        Why.MOULD,
        Why.SOAP,
        Why.PADDLE,
    }
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
    share : of the difference in wet density that this does by itself.
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


def causes(checked: Checked, mixing: Mixing, allowed: Tolerances) -> list[Cause]:
    """List what may have gone wrong with a batch, the likeliest first.

    First figures that do not agree, for one of them is wrong. Then what was measured and tells by mass and volume what
    it did, the largest share before the others; then what was measured and is known from the yard alone; then what
    nobody measured. What was measured and pulls the other way is no cause, unless the mix holds too much water and it
    brought some.

    Parameters
    ----------
    checked : what :func:`blockrun.mix.check.check` found.
    mixing, allowed : as it was given.

    Returns
    -------
    The causes; none where all that was measured is within its tolerance.

    Source
    ------
    The figures: mass and volume balance. That wet foam thins the slurry and lets bubbles rise, that long mixing, a
    wrong paddle and vibrating merge bubbles, that agent settles in its drum, that oil breaks bubbles: common
    practice, no source. That a stiff slurry draws water from foam: Nambiar and Ramamurthy 2008, second-hand.
    """
    trouble = _trouble(checked, allowed)
    weighed = [Cause(Why.WEIGHED, False)] if Why.AT_ODDS in checked.off and not trouble else []
    measured = [cause for why in checked.off if (cause := _measured(why, checked, mixing, allowed))]
    if not trouble and not checked.off:
        return []
    every = [*measured, *weighed, *_not_measured(checked, trouble, allowed)]
    return sorted(every, key=_rank)  # in the order listed, where of equal rank


def one_does_most(found: Sequence[Cause]) -> bool:
    """Whether something measured does most of the difference, so that nothing else need be suspected."""
    return any(cause.share is not None and cause.share >= MOSTLY for cause in found)


class _Trouble(Enum):
    HEAVY = 1
    LIGHT = 2
    SANK = 3


def _trouble(checked: Checked, allowed: Tolerances) -> _Trouble | None:
    seen, due = checked.seen, checked.card.mix.wet_density_kg_m3
    if seen.wet_kg_m3 is not None and is_off(seen.wet_kg_m3, due, allowed.wet):
        return _Trouble.HEAVY if seen.wet_kg_m3 > due else _Trouble.LIGHT
    return _Trouble.SANK if seen.sank is not None and seen.sank > allowed.sank else None


def _rank(cause: Cause) -> tuple[int, float, float]:
    """By evidence, then by share of the difference, then by the water brought."""
    if not cause.measured:
        return (3, 0.0, 0.0)
    if cause.is_practice:
        return (2, 0.0, 0.0)
    if cause.why is Why.AT_ODDS:
        return (-1, 0.0, 0.0)
    does_most = cause.share is not None and cause.share >= MOSTLY
    return (0 if does_most else 1, -(cause.share or 0.0), -(cause.water_kg or 0.0))


def _measured(why: Why, checked: Checked, mixing: Mixing, allowed: Tolerances) -> Cause | None:
    """What was measured and is off, with its figures; None where it pulls the other way."""
    card, seen = checked.card, checked.seen
    if why in (Why.FOAM_WET, Why.FOAM_DRY):
        alone = card.slurry + foam_of(card.foam_l, checked.foam_kg_m3)
        return _by(checked, why, alone, (checked.foam_kg_m3, card.foam_density_kg_m3), allowed)
    if why in (Why.SLURRY_WET, Why.SLURRY_DRY) and seen.slurry_kg_m3 is not None:
        alone = card.whole + water_of(water_told_by(card.slurry, seen.slurry_kg_m3))
        return _by(checked, why, alone, (seen.slurry_kg_m3, card.slurry.wet_density_kg_m3), allowed)
    if why in (Why.FOAM_SHORT, Why.FOAM_OVER):
        foam_l = foam_that_ran(card, seen)
        return _by(checked, why, with_foam_that_ran(card, seen), (foam_l, card.foam_l), allowed)
    if why is Why.AT_ODDS:
        return Cause(why, True, seen.wet_kg_m3, wet_kg_m3=with_foam_that_ran(card, seen).wet_density_kg_m3)
    figures = {
        Why.WAITED: (seen.since_foam_min, mixing.pour_by_min),
        Why.MIXED_LONG: (seen.mixed_min, mixing.blending_min(card.foam_l)),
        Why.MIXED_SHORT: (seen.mixed_min, mixing.foam_time_min),
        Why.HOT: (seen.slurry_c, allowed.warmest_c),
        Why.COLD: (seen.slurry_c, allowed.coldest_c),
    }
    return Cause(why, True, *figures[why])


def _not_measured(checked: Checked, trouble: _Trouble | None, allowed: Tolerances) -> Iterator[Cause]:
    agent = Cause(Why.AGENT, False, due=checked.card.agent_l)
    dirt, soap, paddle = Cause(Why.DIRT, False), Cause(Why.SOAP, False), Cause(Why.PADDLE, False)
    asks_agent = () if _is_foam_right(checked) else (agent,)
    if trouble is _Trouble.LIGHT:
        yield from (*_other_foam(checked), *_other_water(checked, allowed), Cause(Why.WEIGHED, False), paddle)
    elif trouble is _Trouble.HEAVY:
        yield from (*_other_foam(checked), Cause(Why.WEIGHED, False), *asks_agent)
        yield from (*_other_water(checked, allowed, else_look_at=Why.SLURRY_DRY), dirt, soap, paddle)
    elif trouble is _Trouble.SANK:
        yield from (*asks_agent, *_to_look_at(checked, Why.SLURRY_WET), Cause(Why.MOULD, False), dirt, soap, paddle)
    elif Why.FOAM_WET in checked.off or Why.FOAM_DRY in checked.off:
        yield from (agent, soap)


def _is_foam_right(checked: Checked) -> bool:
    """Whether the foam was weighed and is as it is due: the agent was right then."""
    return checked.seen.foam_kg_m3 is not None and not {Why.FOAM_WET, Why.FOAM_DRY} & set(checked.off)


def _other_foam(checked: Checked) -> Iterator[Cause]:
    """The foam that makes all the difference, where it may have been that."""
    card, found = checked.card, checked.found
    if found is None or checked.seen.ran_s is not None:
        return
    litres = amount_to_reach(found.wet_density_kg_m3, checked.slurry, foam_of(1, checked.foam_kg_m3))
    is_short, is_heavy = litres < card.foam_l, found.wet_density_kg_m3 > card.mix.wet_density_kg_m3
    if litres > 0 and is_short == is_heavy:
        yield Cause(Why.FOAM_SHORT if is_short else Why.FOAM_OVER, False, litres, card.foam_l)


def _other_water(checked: Checked, allowed: Tolerances, else_look_at: Why | None = None) -> Iterator[Cause]:
    """The water that makes all the difference, where nobody weighed the slurry and it may have been that.

    Where it may not, a slurry to look at all the same: a stiff one breaks bubbles, a thin one lets them rise.
    """
    water_kg = _water_believed(checked, allowed)
    if checked.seen.slurry_kg_m3 is None and water_kg:
        total = (checked.put_in.water_kg + water_kg) / checked.put_in.cement_kg
        why = Why.SLURRY_WET if water_kg > 0 else Why.SLURRY_DRY
        due = checked.card.slurry.wet_density_kg_m3
        yield Cause(why, False, due=due, water_kg=water_kg, total_water_cement=total)
    elif else_look_at:
        yield from _to_look_at(checked, else_look_at)


def _to_look_at(checked: Checked, why: Why) -> Iterator[Cause]:
    """A slurry that nobody weighed."""
    if checked.seen.slurry_kg_m3 is None:
        yield Cause(why, False, due=checked.card.slurry.wet_density_kg_m3)


def _water_believed(checked: Checked, allowed: Tolerances) -> float | None:
    """Water over the card that gives the density found; None where none does, or nobody mistakes so much."""
    found = checked.found
    if found is None or abs(found.wet_density_kg_m3 - WATER_KG_M3) < 1:  # water changes nothing then
        return None
    water_kg = amount_to_reach(found.wet_density_kg_m3, checked.put_in, water_of(1))
    return water_kg if abs(water_kg) <= allowed.slip * checked.card.slurry_water_kg else None


def _by(checked: Checked, why: Why, alone: Contents, figures: tuple[float, float], allowed: Tolerances) -> Cause | None:
    """A cause whose figures, found and due, make this of the card by itself; its share where there is a difference."""
    planned, wet = checked.card.whole, checked.seen.wet_kg_m3
    share = None
    if wet is not None and is_off(wet, planned.wet_density_kg_m3, allowed.wet):
        share = (alone.wet_density_kg_m3 - planned.wet_density_kg_m3) / (wet - planned.wet_density_kg_m3)
        if share < 0 and not (is_too_wet(checked.found, checked.card, allowed) and alone.water_kg > planned.water_kg):
            return None
    return Cause(
        why, True, *figures,
        water_kg=alone.water_kg - planned.water_kg,
        total_water_cement=alone.total_water_cement,
        wet_kg_m3=alone.wet_density_kg_m3,
        share=share if share is None or share >= 0 else None,
    )  # fmt: skip
