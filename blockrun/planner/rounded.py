"""Parts of a site and an order in the whole numbers of a Problem: used up is rounded up, what is there down."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING

from blockrun.optimiser.problem import Casting, Cubes, Format, Load, Supply
from blockrun.planner.cubes import lot_days, lots, set_l
from blockrun.planner.slabs import slab_l

if TYPE_CHECKING:
    from blockrun.mix import BatchSize
    from blockrun.order import Order, OrderLine
    from blockrun.planner.begun import Begun
    from blockrun.planner.sawing import SawnSlab
    from blockrun.planner.wanted import FormatKey
    from blockrun.site import Delivery, Mixer, Site

AGENT_UNITS_A_LITRE = 1_000_000
_VOLUME_UNITS_A_LITRE = 100_000
_ROUNDING = 1e-3
_SPECK_MIN = 1e-6


def load_of(site: Site, mixer: Mixer, mix: int, size: BatchSize, step: Fraction) -> Load:
    """A size of batch of a mix in a mixer."""
    return Load(
        mixer=site.mixers.index(mixer),
        mix=mix,
        cement=int(size.bags / step),
        agent=math.ceil(size.agent_l * AGENT_UNITS_A_LITRE - _ROUNDING),
        room=math.floor(size.room_l * _VOLUME_UNITS_A_LITRE + _ROUNDING),
        slurry=mixer.slurry_time_min,
        foam=size.foam_min,
        pour=mixer.pour_time_min,
        wash=mixer.wash_time_min,
        crew=mixer.crew,
    )


def blocks_of(site: Site, order: Order, lines: list[OrderLine], mixes: list[str]) -> Format:
    """Blocks of one size and mix."""
    start = site.calendar.start
    needs: dict[int, int] = defaultdict(int)
    for line in lines:
        if line.needed is not None:
            needs[(line.needed - start).days] += line.count
    return Format(
        mix=mixes.index(lines[0].mix),
        volume=math.ceil(lines[0].volume_l * (1 + site.overfill) * _VOLUME_UNITS_A_LITRE - _ROUNDING),
        demand=sum(line.count for line in lines),
        needs=tuple(sorted(needs.items())),
        further=order.wants_further_spares,
    )


def slab_of(site: Site, slab: SawnSlab, keys: tuple[FormatKey, ...], mixes: list[str]) -> Casting:
    """A slab and the blocks it is sawn into; ``keys`` are the formats by their numbers."""
    return Casting(
        mix=mixes.index(slab.mix),
        volume=math.ceil(slab_l(site, slab.kind) * _VOLUME_UNITS_A_LITRE - _ROUNDING),
        gives=tuple(sorted((keys.index(block), count) for block, count in slab.gives.items())),
    )


def cubes_of(site: Site, order: Order, mixes: list[str], step: Fraction, horizon: int) -> Cubes | None:
    """Test cubes, if there are to be any."""
    if site.test_cubes is None:
        return None
    volume = math.ceil(set_l(site) * _VOLUME_UNITS_A_LITRE - _ROUNDING)
    return Cubes(volume, lots(site, order, mixes, step), lot_days(site, horizon))


def supply_of(site: Site, on_hand: float, deliveries: tuple[Delivery, ...], units: Fraction | int) -> Supply:
    """What has come of something by each day, counted in parts of a bag or a litre: so many ``units`` are one."""
    start = site.calendar.start
    steps = [(0, math.floor(on_hand * float(units) + _ROUNDING))]
    total = on_hand
    for delivery in sorted(deliveries, key=lambda delivery: delivery.day):
        total += delivery.amount
        steps.append((max(0, (delivery.day - start).days), math.floor(total * float(units) + _ROUNDING)))
    return Supply(tuple(steps))


def moves(site: Site, slabs: Iterable[SawnSlab], begun: Begun | None) -> tuple[int, ...]:
    """Minutes to move 0, 1, 2, ... blocks."""
    there = (len(turn.blocks) for turn in (begun.turns if begun else ()))
    most = max([*(kind.cavities for kind in site.moulds), *(len(slab.blocks) for slab in slabs), *there])
    return tuple(math.ceil(n * site.move_time_min - _SPECK_MIN) for n in range(most + 1))


def smallest_step(steps: list[Fraction]) -> Fraction:
    """The greatest share of a bag that all steps are whole multiples of."""
    return Fraction(math.gcd(*(step.numerator for step in steps)), math.lcm(*(step.denominator for step in steps)))


def move_seconds(site: Site) -> int:
    """Seconds to move a block: never more than it takes, for bounds."""
    return math.floor(60 * site.move_time_min + _SPECK_MIN)
