"""How many slabs of each saw plan: whole numbers, least area first, then fewest different saw plans."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.sawing.every import every_column
from blockrun.optimiser.sawing.job import Column, Counts, Job, area_of
from blockrun.optimiser.sawing.pool import Pool

_PART_FOR_EVERY: Final = 0.3
_PART_FOR_LEAST: Final = 0.5
_PART_FOR_FEW: Final = 0.2
"""Of the work of an effort."""


@dataclass(frozen=True)
class Chosen:
    """Slabs of each column, and the area that no saw plans get below."""

    counts: Counts
    bound: int


def choose(pool: Pool, known: Counts, bound: int, effort: Effort) -> Chosen:
    """The best choice among saw plans that the effort finds: least area, then fewest different ones.

    Where all saw plans worth having are few, the choice is among all of them, and what it proves is so.

    Parameters
    ----------
    known : a choice among the columns of the pool that meets the demand.
    bound : no saw plans take less area.
    """
    job, counts = pool.job, known
    if bound < area_of(job, known):
        every = every_column(job, pool.grids, effort.of(effort.work * _PART_FOR_EVERY))
        least = _Choice(job, dict.fromkeys([*pool.columns, *(every or ())]))
        among, counts = least.minimize(least.area, known, effort.of(effort.work * _PART_FOR_LEAST))
        bound = bound if every is None else max(bound, among * job.unit)
    few = _Choice(job, dict.fromkeys([*pool.columns, *counts]))
    few.model.add(few.area <= area_of(job, counts) // job.unit)
    return Chosen(few.minimize(few.different(), counts, effort.of(effort.work * _PART_FOR_FEW))[1], bound)


class _Choice:
    """Slabs of each column so that every demand is met."""

    def __init__(self, job: Job, columns: Iterable[Column]) -> None:
        self.job, self.model = job, cp_model.CpModel()
        self.slabs = {column: self.model.new_int_var(0, _most(job, column), "") for column in columns}
        given = {item: sum(dict(c.gives).get(item, 0) * n for c, n in self.slabs.items()) for item in job.demand}
        for item, total in given.items():
            self.model.add(total >= job.demand[item])
        self.area = sum(job.slabs[c.slab].area // job.unit * n for c, n in self.slabs.items())

    def different(self) -> cp_model.LinearExprT:
        """How many saw plans are used at all."""
        used = {column: self.model.new_bool_var("") for column in self.slabs}
        for column, slabs in self.slabs.items():
            self.model.add(slabs <= _most(self.job, column) * used[column])
        return sum(used.values())

    def minimize(self, cost: cp_model.LinearExprT, known: Counts, effort: Effort) -> tuple[int, Counts]:
        """The bound, and a choice no worse than the known one."""
        self.model.minimize(cost)
        for column, slabs in self.slabs.items():
            self.model.add_hint(slabs, known.get(column, 0))
        answer = run(self.model, effort)
        if not answer.found:
            return answer.bound, known
        return answer.bound, Counts({c: n for c, slabs in self.slabs.items() if (n := answer.value(slabs))})


def _most(job: Job, column: Column) -> int:
    """More slabs than this would give nothing that is still wanted."""
    return max(-(-job.demand.get(item, 0) // count) for item, count in column.gives)
