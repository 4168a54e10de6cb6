"""From parts of slabs to whole ones: round down, then saw what is still wanted slab after slab, the dearest plan first.

What a piece is worth is learnt from one round to the next: pieces that were sawn with much waste are hard to place and
become dearer (sequential value correction, Mukhacheva 1996; from memory, our own step).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.job import Column, Counts, Job, area_of, unmet
from blockrun.optimiser.sawing.pool import Pool, Relaxed, work_of
from blockrun.optimiser.sawing.rests import filled, trimmed

MOST_ROUNDS: Final = 12
_NEAR: Final = 1e-6
_LEAST_PART: Final = 1e-3


def rounded(pool: Pool, relaxed: Relaxed, bound: int, effort: Effort) -> Counts:
    """Slabs of each column that meet the demand, as little area as some rounds find; new columns go to the pool.

    Parameters
    ----------
    bound : area at which there is no need to look further.
    """
    job, best, spent = pool.job, pool.evenly, 0.0
    base, left, worth = _rounded_down(pool, relaxed, effort)
    for _ in range(MOST_ROUNDS):
        if effort.stop() or spent > effort.work or area_of(job, best) <= bound:
            break
        tail = _slab_after_slab(pool, left, worth)
        best = min(best, base + tail, key=lambda counts: area_of(job, counts))
        worth = learnt(job, tail, worth)
        spent += len(tail) * work_of(pool.grids)
    return best


def _rounded_down(pool: Pool, relaxed: Relaxed, effort: Effort) -> tuple[Counts, Counter[int], list[float]]:
    """Whole slabs of what is enough in parts, then of what is enough for the rest, and so on while there are any.

    With them what they leave wanted, and what a piece of that is worth.
    """
    base, left = Counts(), Counter(pool.job.demand)
    while whole := Counts({c: int(use + _NEAR) for c, use in relaxed.uses.items() if use >= 1 - _NEAR}):
        base += whole
        left = unmet(pool.job.demand, base)
        relaxed = pool.generate(left, effort)
    areas = _areas(pool.job)
    return base, left, [max(value, _LEAST_PART * area) for value, area in zip(relaxed.worth, areas, strict=True)]


def _slab_after_slab(pool: Pool, wanted: Mapping[int, int], worth: Sequence[float]) -> Counts:
    """Slabs until nothing is wanted any more."""
    counts = Counts()
    while left := unmet(wanted, counts):
        columns = [_dear(pool, slab, left, worth) for slab in range(len(pool.grids))]
        column = max(columns, key=lambda column: column.worth(worth) / pool.job.slabs[column.slab].area)
        counts[column] += min(left[item] // each for item, each in column.gives)
        pool.add(column)
    return counts


def _dear(pool: Pool, slab: int, left: Mapping[int, int], worth: Sequence[float]) -> Column:
    """About the dearest plan of a slab that gives no more than is wanted."""
    job = pool.job
    asked = [value if item in left else 0.0 for item, value in enumerate(worth)]
    plan = trimmed(pool.grids[slab].best(asked), left)
    more = Counter(left) - Counter(plan.gives())
    return Column.of(slab, filled(job.slabs[slab], job.kerf[slab], job.sizes, plan, more, asked))


def learnt(job: Job, counts: Counts, worth: Sequence[float]) -> list[float]:
    """Halfway from the old worths to the slab that pieces took in these plans, waste shared out by area."""
    areas, took, made = _areas(job), dict.fromkeys(job.demand, 0.0), Counter[int]()
    for column, count in counts.items():
        waste = job.slabs[column.slab].area / column.worth(areas)
        for item, each in column.gives:
            made[item] += count * each
            took[item] += count * each * waste * areas[item]
    return [(old + took[item] / made[item]) / 2 if item in made else old for item, old in enumerate(worth)]


def _areas(job: Job) -> list[float]:
    return [float(length * height) for length, height in job.sizes]
