"""Saw plans for a demand: columns, whole numbers, nothing sawn for nobody, and what is left over put to use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Final

from blockrun.errors import OutOfRange
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.grid import Size, ways_to_lie
from blockrun.optimiser.sawing.job import Counts, Job
from blockrun.optimiser.sawing.plan import Sawn, SawPlan, Slab
from blockrun.optimiser.sawing.pool import Pool
from blockrun.optimiser.sawing.rests import filled, trimmed
from blockrun.optimiser.sawing.rounding import rounded
from blockrun.optimiser.sawing.whole import choose

Slabs = list[tuple[int, SawPlan, int]]

_PART_FOR_PLANS: Final = 0.4
_PART_FOR_ROUNDING: Final = 0.2
_PART_FOR_WHOLE: Final = 0.4
"""Of the work of an effort."""


def saw(
    slabs: Sequence[Slab],
    kerf: Sequence[int],
    sizes: Sequence[Size],
    demand: Sequence[int],
    effort: Effort,
    *,
    offcuts: Sequence[int] = (),
) -> Sawn:
    """Saw plans that give what is wanted out of the least area of slabs.

    Parameters
    ----------
    slabs : to choose from, each as often as wanted.
    kerf : width of a cut in each slab.
    sizes : length and height of each item, turned or not.
    demand : pieces wanted of each item, >= 0.
    effort : limits.
    offcuts : items that are sawn only out of what is left over, at most as many as their demand.

    Returns
    -------
    Exactly the pieces wanted, and of offcuts what found room.

    Raises
    ------
    OutOfRange : an item that is wanted fits no slab, either way.
    """
    wanted = {item: count for item, count in enumerate(demand) if count > 0 and item not in offcuts}
    job = Job(slabs, kerf, sizes, wanted)
    _check(job)
    if not wanted:
        return Sawn((), 0, 0.0, proven=True)
    pool = Pool(job)
    relaxed = pool.generate(wanted, effort.of(effort.work * _PART_FOR_PLANS))
    bound = job.up(relaxed.bound)
    known = rounded(pool, relaxed, bound, effort.of(effort.work * _PART_FOR_ROUNDING))
    chosen = choose(pool, known, bound, effort.of(effort.work * _PART_FOR_WHOLE))
    used = _put_to_use(job, exactly(chosen.counts, wanted), {item: demand[item] for item in offcuts})
    cost = sum(slabs[slab].area * count for slab, _, count in used)
    return Sawn(tuple(used), cost, float(chosen.bound), proven=chosen.bound >= cost)


def _check(job: Job) -> None:
    for item in job.demand:
        length, height = job.sizes[item]
        if not any(ways_to_lie(slab, kerf, [(length, height)]) for slab, kerf in zip(job.slabs, job.kerf, strict=True)):
            raise OutOfRange(
                f"item {item}, {length} x {height}, is larger than every slab, turned or not",
                "Cast it in a mould of its own, or saw it out of a larger slab.",
                name=f"item {item}",
                value=(length, height),
                limit=tuple((slab.length, slab.height) for slab in job.slabs),
            )


def exactly(counts: Counts, wanted: Mapping[int, int]) -> Slabs:
    """The slabs chosen, without pieces beyond what is wanted, and without slabs that then give nothing."""
    left = Counter(wanted)
    slabs: Counter[tuple[int, SawPlan]] = Counter()
    for column, count in sorted(counts.items(), key=lambda used: (used[0].slab, used[0].gives)):
        for _ in range(count):
            plan = trimmed(column.plan, left)
            left.subtract(plan.gives())
            slabs[column.slab, plan] += bool(plan.pieces)
    return [(slab, plan, count) for (slab, plan), count in slabs.items() if count]


def _put_to_use(job: Job, used: Slabs, wanted: Mapping[int, int]) -> Slabs:
    """Saw offcuts out of what is left over, most area first, for as many slabs of a plan as they are wanted of."""
    left = Counter(wanted)
    done: Slabs = []
    waiting = used[::-1]
    area = [length * height for length, height in job.sizes]
    while waiting:
        slab, plan, count = waiting.pop()
        fuller = filled(job.slabs[slab], job.kerf[slab], job.sizes, plan, left, area)
        more = Counter(fuller.gives()) - Counter(plan.gives())
        times = min([count, *(left[item] // each for item, each in more.items())])
        left.subtract({item: times * each for item, each in more.items()})
        done.append((slab, fuller, times))
        if times < count:
            waiting.append((slab, plan, count - times))
    return done
