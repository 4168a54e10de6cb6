"""Saw plans worth having: a linear programme says what a piece of each item is worth, and the grids what is dearest.

Column generation (Gilmore and Gomory 1961; from memory). At every step the prices also tell how much slab is needed at
the least: were every plan to be worth no more than its slab, the wanted pieces together would be (Farley 1990; from
memory). Prices are rounded to whole numbers first, so that this bound is exact whatever the linear programme did.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from ortools.math_opt.python import mathopt

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.grid import Grid, Size, ways_to_lie
from blockrun.optimiser.sawing.plan import SawPlan, Slab
from blockrun.optimiser.sawing.roof import Roof

_FINENESS: Final = 2.0**40
"""Whole prices of the dearest slab: sums of them stay exact in a float."""
_NEAR: Final = 1e-9
_WORK_A_ROUND: Final = 0.005
_WORK_A_STEP: Final = 2.5e-9
"""In the units of an effort, measured."""


@dataclass(frozen=True)
class Job:
    """What is to be sawn, out of what."""

    slabs: Sequence[Slab]
    kerf: Sequence[int]
    sizes: Sequence[Size]
    demand: Mapping[int, int]

    def less(self, demand: Mapping[int, int]) -> Job:
        """The same with another demand."""
        return Job(self.slabs, self.kerf, self.sizes, demand)


@dataclass(frozen=True)
class Column:
    """A saw plan of a slab, known by what it gives."""

    slab: int
    plan: SawPlan = field(compare=False)
    gives: tuple[tuple[int, int], ...]

    @classmethod
    def of(cls, slab: int, plan: SawPlan) -> Column:
        """A column of this plan."""
        return cls(slab, plan, tuple(plan.gives().items()))


def even(job: Job) -> list[Column]:
    """For each slab and item wanted, a plan of rows of nothing else; none where the item does not fit."""
    columns = []
    for index, (slab, kerf) in enumerate(zip(job.slabs, job.kerf, strict=True)):
        for one in ways_to_lie(slab, kerf, job.sizes):
            if job.demand.get(one.item):
                plan = Grid.of(slab, kerf, job.sizes, [one.item]).best([1.0] * len(job.sizes))
                columns.append(Column.of(index, plan))
    return list(dict.fromkeys(columns))


@dataclass(frozen=True)
class Relaxed:
    """Slabs of each column in parts of a slab, prices of the items, and a bound on the area no saw plans get below."""

    uses: Sequence[float]
    prices: Sequence[float]
    bound: Fraction


class Pool:
    """Columns found so far for a job and for parts of its demand."""

    def __init__(self, job: Job) -> None:
        wanted = [item for item, count in job.demand.items() if count]
        self.job = job
        self.grids = [Grid.of(slab, kerf, job.sizes, wanted) for slab, kerf in zip(job.slabs, job.kerf, strict=True)]
        self.roofs = [
            Roof.of(grid, slab, kerf) for grid, slab, kerf in zip(self.grids, job.slabs, job.kerf, strict=True)
        ]
        self.columns = dict.fromkeys(even(job))

    def add(self, column: Column) -> bool:
        """Keep a column; false if it is known."""
        known = column in self.columns
        self.columns[column] = None
        return not known

    def generate(self, demand: Mapping[int, int], effort: Effort) -> Relaxed:
        """Add columns until none makes the linear programme for this demand cheaper, or the effort is spent."""
        bound, spent = Fraction(0), 0.0
        while True:
            uses, prices = self._relax(demand)
            if spent > effort.work or effort.stop():
                return Relaxed(uses, prices, bound)
            found = [Column.of(index, grid.best(prices)) for index, grid in enumerate(self.grids)]
            worth = [sum(prices[item] * count for item, count in column.gives) for column in found]
            bound = max(bound, self._bound(demand, prices, worth))
            pay = [column for column, value in zip(found, worth, strict=True) if self._pays(column, value)]
            if not any([self.add(column) for column in pay]):
                return Relaxed(uses, prices, bound)
            spent += _WORK_A_ROUND + _WORK_A_STEP * sum(grid.steps for grid in self.grids)

    def _relax(self, demand: Mapping[int, int]) -> tuple[list[float], list[float]]:
        """Uses and prices of the linear programme over the columns known."""
        model = mathopt.Model()
        uses = {column: model.add_variable(lb=0.0) for column in self.columns}
        given: dict[int, list[mathopt.LinearTerm]] = {item: [] for item, count in demand.items() if count}
        for column, use in uses.items():
            for item in given.keys() & dict(column.gives).keys():
                given[item].append(dict(column.gives)[item] * use)
        rows = {
            item: model.add_linear_constraint(mathopt.fast_sum(terms) >= demand[item]) for item, terms in given.items()
        }
        model.minimize(mathopt.fast_sum(self.job.slabs[column.slab].area * use for column, use in uses.items()))
        result = mathopt.solve(model, mathopt.SolverType.GLOP)
        prices = [0.0] * len(self.job.sizes)
        for item, row in rows.items():
            prices[item] = float(max(0.0, result.dual_values(row)) * self._scale // 1)
        return result.variable_values(list(uses.values())), prices

    @property
    def _scale(self) -> float:
        """Whole prices to a unit of area."""
        return _FINENESS / max(slab.area for slab in self.job.slabs)

    def _pays(self, column: Column, worth: float) -> bool:
        return worth > self.job.slabs[column.slab].area * self._scale * (1 + _NEAR)

    def _bound(self, demand: Mapping[int, int], prices: Sequence[float], worth: Sequence[float]) -> Fraction:
        """What is wanted, at prices so low that no plan is worth more than its slab."""
        total = sum(int(prices[item]) * count for item, count in demand.items())
        most = [roof.most(prices, value) for roof, value in zip(self.roofs, worth, strict=True)]
        return min(
            (Fraction(total * slab.area, value) for slab, value in zip(self.job.slabs, most, strict=True) if value),
            default=Fraction(0),
        )
