"""What to add to a mix that is too heavy, by what the bucket weighs: a little table, as `check` would answer."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from blockrun.errors import OutOfRange
from blockrun.mix.bucket_of_foam import dilution_of
from blockrun.mix.card import card_of_bags, mixing_in
from blockrun.mix.check import Checked, Verdict, check
from blockrun.mix.corrections import Added
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import tolerances_of
from blockrun.mix.weighing import Container
from blockrun.show.batch.buckets import buckets_of
from blockrun.show.batch.load import container_for, mix_weighs, most_to_weigh_l
from blockrun.show.batch.what_to_do import runs_said
from blockrun.show.measures import bags_of, by_volume, measured_out
from blockrun.show.page import glued
from blockrun.units import in_unit

if TYPE_CHECKING:
    from blockrun.mix.card import Card, Mixing
    from blockrun.mix.corrections import Correction
    from blockrun.show.day import Pour
    from blockrun.site import Mixer, Site

ROWS: Final = 4
STEP: Final = 0.025
"""Each row is for so much more of the net weight, to the next step of a scale (our choice)."""


@dataclass(frozen=True)
class Heavy:
    """A weight over the limit, and what to do then.

    Attributes
    ----------
    weighs : the full bucket, ``8.7 kg`` at the most.
    take_out : of the mix first, ``5 L``; empty where the mixer has room for what is added.
    foam, runs : to add, ``12.5 L``, which the generator makes in ``12 s``.
    """

    weighs: str
    take_out: str
    foam: str
    runs: str


@dataclass(frozen=True)
class TooHeavy:
    """What to do with a mix that is too heavy: rows by rising weight, and how soon after the foam to begin.

    Each row is for all weights from the one before it, the first from the limit, ``over``: its foam brings them all
    within the limits. Over the last weight, or without any row, the mix is not to be poured before somebody has asked
    ``blockrun check``. ``dilution`` says where that for the foam comes from.
    """

    rows: tuple[Heavy, ...]
    begin_within_min: int
    over: str
    dilution: str


def too_heavy(pour: Pour, mixer: Mixer, site: Site) -> TooHeavy:
    """What `check` says to a batch that weighs more and more over its limit, as long as foam mends it."""
    card = card_of_bags(site, pour.mix, bags_of(pour.batch.bags))
    mixing = replace(mixing_in(site, mixer), pour_life_min=pour.pour_life.minutes)
    steps = list(_mended(card, mixing, site))
    begin_min = min((math.floor(step.latest_min + 1e-9) for _, step in steps), default=0)
    rows = tuple(_row(weighs, step, card, site.units) for weighs, step in steps)
    limit = mix_weighs(card.mix, site, most_to_weigh_l(card.makes_l))
    most_kg = max((step.added.mass_kg for _, step in steps), default=0.0)
    return TooHeavy(rows, begin_min, glued(f"{limit.high} {limit.unit}"), _at_hand(most_kg, site) if rows else "")


def _at_hand(foam_kg: float, site: Site) -> str:
    """Say to have dilution for so much foam ready: there is no time to make it up while a mix waits (our choice).

    It is not made up for each batch to be thrown away: what a batch does not use is the next one's.
    """
    more, units = dilution_of(foam_kg, site.foam_generator), site.units
    litres = measured_out(more.volume_l, units)
    if site.foam_generator.tank_l is not None:
        return f"See that {litres} more are in the tank."
    agent, water = by_volume(more.agent_l, units), measured_out(more.water_l, units)
    return f"Have {litres} more dilution ready, {agent} in {water}; what is left is for the next batch."


def _mended(card: Card, mixing: Mixing, site: Site) -> Iterator[tuple[str, Correction]]:
    """Weights over the limit with the foam that mends them, until one is not to be mended so."""
    most_l = most_to_weigh_l(card.makes_l)
    weighs, container = mix_weighs(card.mix, site, most_l), _container(site, most_l)
    kg = 1 / in_unit(1, "mass", weighs.unit)
    net = container.volume_l * card.mix.wet_density_kg_m3 / 1000 / kg
    step = _scale_step(net * STEP)
    for number in range(1, ROWS + 1):
        shown = math.floor(float(weighs.high) / step + 1e-9) * step + number * step
        checked = _checked(card, mixing, container.density_kg_m3(shown * kg), site)
        if checked is None or checked.verdict is not Verdict.CORRECT or checked.corrections[0].what is not Added.FOAM:
            return
        yield glued(f"{shown:.{_decimals(step)}f} {weighs.unit}"), checked.corrections[0]


def _checked(card: Card, mixing: Mixing, wet_kg_m3: float, site: Site) -> Checked | None:
    """The answer of `check`; None to a weight that cannot be."""
    try:
        return check(card, mixing, Seen(wet_kg_m3=wet_kg_m3), tolerances_of(site.buckets), units=site.units)
    except OutOfRange:
        return None


def _container(site: Site, most_l: float) -> Container:
    return Container(*container_for(site, buckets_of(site).mix_l, most_l), units=site.units)


def _row(weighs: str, step: Correction, card: Card, units: str) -> Heavy:
    litres = step.added.volume_l
    out = measured_out(step.take_out_l, units) if step.take_out_l else ""
    return Heavy(weighs, out, measured_out(litres, units), runs_said(litres, card))


def _scale_step(least: float) -> float:
    """A round step of a scale, no finer than asked: 0.1, 0.2, 0.5, 1 and so on."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(digit * power for digit in (1, 2, 5, 10) if digit * power >= least * (1 - 1e-9))


def _decimals(step: float) -> int:
    return max(0, -math.floor(math.log10(step) + 1e-9))
