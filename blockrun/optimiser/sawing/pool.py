"""Saw plans worth having: a linear programme says what a piece of each item is worth, the grids which plan is dearest.

Column generation (Gilmore and Gomory 1961; from memory). At every step the prices also tell how much slab is needed at
the least: prices at which no plan is worth more than its slab are too low for the wanted pieces together (Farley 1990;
from memory). Prices are rounded to whole numbers first, so this bound is exact whatever the linear programme did.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from ortools.math_opt.python import mathopt

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.grid import MOST_STEPS, Grid, steps
from blockrun.optimiser.sawing.job import Column, Job, even_columns, evenly
from blockrun.optimiser.sawing.roof import Roof

_FINENESS: Final = 2.0**40
"""Whole prices of the largest slab: sums of them stay exact in a float."""
_NEAR: Final = 1e-9
_QUICK_STEPS: Final = 4_000_000
_WORK_A_ROUND: Final = 0.005
_WORK_A_STEP: Final = 2.5e-9
"""In the units of an effort, measured."""


@dataclass(frozen=True)
class Relaxed:
    """Parts of slabs that are enough.

    Attributes
    ----------
    uses : slabs of each column, in parts of a slab.
    worth : of a piece of each item, as area of slab; 0 for items not wanted.
    bound : no saw plans for the same demand take less area.
    """

    uses: Mapping[Column, float]
    worth: Sequence[float]
    bound: Fraction


class Pool:
    """Columns found so far for a job.

    Attributes
    ----------
    grids, quick : of each slab; the quick ones are thinner where that saves much.
    evenly : an answer to start from.
    """

    def __init__(self, job: Job) -> None:
        self.job = job
        self.grids, self.quick = self._grids(MOST_STEPS), self._grids(_QUICK_STEPS)
        self._roofs = [Roof.of(*one) for one in zip(self.grids, job.slabs, job.kerf, strict=True)]
        self._scale = _FINENESS / max(slab.area for slab in job.slabs)
        even = even_columns(job)
        self.evenly = evenly(job, even)
        self.columns = dict.fromkeys(even)

    def _grids(self, most_steps: int) -> list[Grid]:
        job, wanted = self.job, list(self.job.demand)
        each = zip(job.slabs, job.kerf, strict=True)
        return [Grid.of(slab, kerf, job.sizes, wanted, most_steps=most_steps) for slab, kerf in each]

    def add(self, column: Column) -> bool:
        """Keep a column; false if it is known."""
        known = column in self.columns
        self.columns[column] = None
        return not known

    def generate(self, demand: Mapping[int, int], effort: Effort) -> Relaxed:
        """Add columns until none makes the linear programme for this demand cheaper, or the effort is spent.

        Quick grids are asked as long as they find any; the full ones tell the bound.
        """
        bound, spent = self._by_area(demand), 0.0
        while True:
            uses, prices = self._relax(demand)
            late = spent > effort.work or effort.stop()
            spent += work_of(self.quick)
            if not late and self._add_those_that_pay(self._dearest(self.quick, prices), prices):
                continue
            spent += work_of(self.grids)
            found = [] if effort.stop() else self._dearest(self.grids, prices)
            bound = max(bound, self._bound(demand, prices, found)) if found else bound
            if not self._add_those_that_pay(found, prices) or late:
                return Relaxed(uses, [price / self._scale for price in prices], bound)

    def _add_those_that_pay(self, found: Sequence[Column], prices: Sequence[float]) -> bool:
        """Whether any was new."""
        return any([self.add(column) for column in found if self._pays(column, prices)])

    def _relax(self, demand: Mapping[int, int]) -> tuple[dict[Column, float], list[float]]:
        """Slabs of each column, and whole prices of the items, by the linear programme over the columns known."""
        model = mathopt.Model()
        uses = {column: model.add_variable(lb=0.0) for column in self.columns}
        given: dict[int, list[mathopt.LinearTerm]] = {item: [] for item in demand}
        for column, use in uses.items():
            for item, count in column.gives:
                if item in given:
                    given[item].append(count * use)
        rows = {
            item: model.add_linear_constraint(mathopt.fast_sum(terms) >= demand[item]) for item, terms in given.items()
        }
        model.minimize(mathopt.fast_sum(self.job.slabs[column.slab].area * use for column, use in uses.items()))
        result = mathopt.solve(model, mathopt.SolverType.GLOP)
        prices = [0.0] * len(self.job.sizes)
        for item, row in rows.items():
            prices[item] = max(0.0, result.dual_values(row)) * self._scale // 1
        return {column: result.variable_values(use) for column, use in uses.items()}, prices

    def _dearest(self, grids: Sequence[Grid], prices: Sequence[float]) -> list[Column]:
        """A column of each slab."""
        return [Column.of(index, grid.best(prices)) for index, grid in enumerate(grids)]

    def _pays(self, column: Column, prices: Sequence[float]) -> bool:
        return column.worth(prices) > self.job.slabs[column.slab].area * self._scale * (1 + _NEAR)

    def _bound(self, demand: Mapping[int, int], prices: Sequence[float], dearest: Sequence[Column]) -> Fraction:
        """What is wanted, at prices lowered until no plan is worth more than its slab."""
        total = sum(int(prices[item]) * count for item, count in demand.items())
        most = [roof.most(prices, found.worth(prices)) for roof, found in zip(self._roofs, dearest, strict=True)]
        slabs = zip(self.job.slabs, most, strict=True)
        return min((Fraction(total * slab.area, value) for slab, value in slabs if value), default=Fraction(0))

    def _by_area(self, demand: Mapping[int, int]) -> Fraction:
        """Pieces and their blades do not fill more than slabs: each item out of the slab where it takes least."""
        taken: dict[int, list[Fraction]] = {item: [] for item in demand}
        for grid, slab, kerf in zip(self.grids, self.job.slabs, self.job.kerf, strict=True):
            each = Fraction(slab.area, (slab.length + kerf) * (slab.height + kerf))
            for one in grid.laid:
                if one.item in taken:
                    taken[one.item].append(each * one.length * one.height)
        return sum((min(taken[item]) * count for item, count in demand.items()), start=Fraction(0))


def work_of(grids: Sequence[Grid]) -> float:
    """What looking once for the dearest plan of every slab takes, in the units of an effort."""
    return _WORK_A_ROUND + _WORK_A_STEP * sum(steps(len(grid.xs), len(grid.ys)) for grid in grids)
