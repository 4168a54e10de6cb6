"""Sets of test cubes in a plan: the mix one takes, and how much of a mix makes a lot."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from blockrun import units
from blockrun.mix.cubes import cubes_l
from blockrun.planner.mixes import mix_proportions

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site


def set_l(site: Site) -> float:
    """Mix that a set takes, overfill included, in litres; nothing where none are cast."""
    sets = site.test_cubes
    return cubes_l(sets.count, sets.size_mm, site.overfill) if sets else 0.0


def lots(site: Site, order: Order, mixes: list[str], step: Fraction) -> tuple[int, ...]:
    """Steps of cement, each so much of a bag, that make a lot of each mix."""
    sets = site.test_cubes
    if sets is None:
        return ()
    made = mix_proportions(site, order)
    # what a step of cement makes is exact to rounding: a lot is whole where it is so to a billionth
    makes_l = [float(step) * site.stock.cement.bag_kg / made[mix].cement_kg * 1000 for mix in mixes]
    return tuple(math.ceil(sets.every_l / litres * (1 - 1e-9)) for litres in makes_l)


def days_of_more_than_a_lot(site: Site, tables: PlanTables) -> Iterator[str]:
    """Say of each mix on how many days more than a lot of it is made, for a day gives one set at the most."""
    sets = site.test_cubes
    if sets is None:
        return
    batches = tables.batches
    made: Counter[tuple[str, object]] = Counter()
    for mix, start, litres in zip(batches["mix"], batches["start"].dt.date, batches["yield_l"], strict=True):
        made[mix, start] += litres
    days = Counter(mix for (mix, _), litres in made.items() if litres > sets.every_l * (1 + 1e-9))
    lot = units.show(sets.every_l, "volume", site.units)
    for mix, n in sorted(days.items()):
        on = "1 day" if n == 1 else f"{n} days"
        yield f"{mix}: on {on} more is made than a lot of {lot}, and a day gives one set of test cubes at the most."
