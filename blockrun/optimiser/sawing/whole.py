"""How many slabs of each saw plan: whole numbers, least area first, then the fewest pieces that nobody asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Effort, run
from blockrun.optimiser.sawing.columns import Column, Job

Counts = dict[Column, int]
"""Slabs of each column that is used."""


@dataclass(frozen=True)
class Chosen:
    """Slabs of each column, and the area no choice among these columns gets below."""

    counts: Counts
    bound: int


def area_of(job: Job, counts: Counts) -> int:
    """Area of all slabs used."""
    return sum(job.slabs[column.slab].area * count for column, count in counts.items())


def choose(job: Job, columns: Sequence[Column], known: Counts, effort: Effort) -> Chosen:
    """The best choice among columns that the effort finds.

    Parameters
    ----------
    known : a choice among them that meets the demand.
    """
    least = _Choice(job, columns)
    bound, counts = least.minimize(least.area, known, effort)
    spare = _Choice(job, columns)
    spare.model.add(spare.area <= area_of(job, counts) // spare.unit)
    _, counts = spare.minimize(spare.surplus, counts, effort.of(effort.work / 4))
    return Chosen(counts, bound * least.unit)


class _Choice:
    """Slabs of each column so that every demand is met."""

    def __init__(self, job: Job, columns: Sequence[Column]) -> None:
        self.model = cp_model.CpModel()
        self.unit = gcd(*(slab.area for slab in job.slabs))
        self.slabs = {column: self.model.new_int_var(0, _most(job, column), "") for column in columns}
        given = {item: sum(dict(c.gives).get(item, 0) * n for c, n in self.slabs.items()) for item in _asked(job)}
        for item, total in given.items():
            self.model.add(total >= job.demand[item])
        self.area = sum(job.slabs[c.slab].area // self.unit * n for c, n in self.slabs.items())
        self.surplus = sum(given.values())

    def minimize(self, cost: cp_model.LinearExprT, known: Counts, effort: Effort) -> tuple[int, Counts]:
        """The bound, and a choice no worse than the known one."""
        self.model.minimize(cost)
        for column, slabs in self.slabs.items():
            self.model.add_hint(slabs, known.get(column, 0))
        answer = run(self.model, effort)
        if not answer.found:
            return answer.bound, known
        return answer.bound, {c: n for c, slabs in self.slabs.items() if (n := answer.value(slabs))}


def _asked(job: Job) -> list[int]:
    return [item for item, count in job.demand.items() if count]


def _most(job: Job, column: Column) -> int:
    """More slabs than this would give nothing that is still wanted."""
    return max(-(-job.demand.get(item, 0) // count) for item, count in column.gives)
