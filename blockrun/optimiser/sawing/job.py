"""What is to be sawn out of what, and saw plans as columns: known by what they give."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import gcd
from typing import Final

import numpy as np

from blockrun.optimiser.sawing.grid import Grid, Size, ways_to_lie
from blockrun.optimiser.sawing.places import sums
from blockrun.optimiser.sawing.plan import SawPlan, Slab

_MOST_UNITS: Final = 1_000_000


@dataclass(frozen=True)
class Job:
    """What is to be sawn, out of what; `demand` holds only items of which something is wanted."""

    slabs: Sequence[Slab]
    kerf: Sequence[int]
    sizes: Sequence[Size]
    demand: Mapping[int, int]

    @property
    def unit(self) -> int:
        """The largest area that every slab is a multiple of."""
        return gcd(*(slab.area for slab in self.slabs))

    def up(self, area: Fraction) -> int:
        """The least area of whole slabs that is no less; of very many units, the least multiple of the unit."""
        units, each = -int(-area // self.unit), [slab.area // self.unit for slab in self.slabs]
        if units + max(each) > _MOST_UNITS:
            return units * self.unit
        reached = sums(units + max(each), each)
        return int(reached[np.searchsorted(reached, units)]) * self.unit


@dataclass(frozen=True)
class Column:
    """A saw plan of a slab. Two that give the same out of the same slab are one column."""

    slab: int
    plan: SawPlan = field(compare=False)
    gives: tuple[tuple[int, int], ...]

    @classmethod
    def of(cls, slab: int, plan: SawPlan) -> Column:
        """A column of this plan."""
        return cls(slab, plan, tuple(plan.gives().items()))

    def worth(self, prices: Sequence[float]) -> float:
        """What its pieces are worth together."""
        return sum(prices[item] * count for item, count in self.gives)


Counts = Counter[Column]
"""Slabs of each column that is used."""


def area_of(job: Job, counts: Counts) -> int:
    """Area of all slabs used."""
    return sum(job.slabs[column.slab].area * count for column, count in counts.items())


def unmet(demand: Mapping[int, int], counts: Counts) -> Counter[int]:
    """What these slabs leave wanted."""
    left = Counter(demand)
    for column, count in counts.items():
        left.subtract({item: each * count for item, each in column.gives})
    return +left


def even_columns(job: Job) -> list[Column]:
    """For each slab and item wanted, a plan of nothing else; none where the item does not fit."""
    return [
        Column.of(index, Grid.of(slab, kerf, job.sizes, [item]).best([1.0] * len(job.sizes)))
        for index, (slab, kerf) in enumerate(zip(job.slabs, job.kerf, strict=True))
        for item in _fitting(job, slab, kerf)
    ]


def evenly(job: Job, columns: Iterable[Column]) -> Counts:
    """Each item out of slabs of nothing else, so that there is always an answer."""
    counts = Counts()
    of_item: dict[int, list[Column]] = {item: [] for item in job.demand}
    for column in columns:
        of_item[column.gives[0][0]].append(column)
    for item, even in of_item.items():
        best = min(even, key=lambda column: (Fraction(job.slabs[column.slab].area, column.gives[0][1]), column.slab))
        counts[best] = -(-job.demand[item] // best.gives[0][1])
    return counts


def _fitting(job: Job, slab: Slab, kerf: int) -> list[int]:
    return [
        item for item in dict.fromkeys(one.item for one in ways_to_lie(slab, kerf, job.sizes)) if item in job.demand
    ]
