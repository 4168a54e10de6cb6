"""How time grows with an order, and what a day that changes costs: ``python -m tests.bench.growth [SIZE ...]``.

Of each size (``week``, ``house``; both unless told) the first easy yard is planned as it is, with ten times the blocks
on the same formats and days, and once more with a working day less, from its last answer. Seconds are of this process
alone, so that ratios of one run can be told.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from blockrun.order import Order, load_order
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.site import Site, load_site
from tests.bench.yards import SIZES, bench_yard

_TIMES = 10
_OF_A_BATCH = ("usable_volume_l", "least_volume_l", "bag_step", "left_behind_l")


def main(sizes: Sequence[str]) -> None:
    """Print a row for each plan."""
    sys.stdout.write("yard,blocks,seconds,against_first,late,finish,batches,cement_kg\n")
    for size in sizes or ("week", "house"):
        site, order = _read(size, 1)
        first, took = _timed(size, site, order, None)
        _timed(f"{size} x{_TIMES}", *_read(size, _TIMES), took)
        _timed(f"{size} a day less", _a_day_less(site, first), order, took, last=first)


def _read(size: str, times: int) -> tuple[Site, Order]:
    extent = SIZES[size]
    with tempfile.TemporaryDirectory() as folder:
        site, order = bench_yard(size, 1, replace(extent, blocks=times * extent.blocks)).write(Path(folder))
        return _of_more_hands(load_site(site), times), load_order(order)


def _of_more_hands(site: Site, times: int) -> Site:
    """The yard with so many times the mixers' volume, foam and people; moulds and racks have grown with the order."""
    mixers = [
        mixer.model_copy(update={name: times * getattr(mixer, name) for name in _OF_A_BATCH}) for mixer in site.mixers
    ]
    generator = site.foam_generator
    foam = generator.model_copy(update={"rate_l_min": times * generator.rate_l_min})
    crew = site.crew.model_copy(update={"people": times * site.crew.people})
    return site.model_copy(update={"mixers": mixers, "foam_generator": foam, "crew": crew})


def _a_day_less(site: Site, plan: Plan) -> Site:
    """Closed on the middle one of the days that are poured on."""
    poured = sorted({start.date() for start in plan.tables.batches["start"]})
    closed = site.calendar.closed | {poured[len(poured) // 2]}
    return site.model_copy(update={"calendar": site.calendar.model_copy(update={"closed": closed})})


def _timed(name: str, site: Site, order: Order, first_s: float | None, last: Plan | None = None) -> tuple[Plan, float]:
    began = time.perf_counter()
    plan = make_plan(site, order, last=last)
    took = time.perf_counter() - began
    ratio = "" if first_s is None else f"{took / first_s:.2f}"
    values = ",".join(str(stage.value) for stage in plan.stages)
    sys.stdout.write(f"{name},{len(plan.tables.casts)},{took:.2f},{ratio},{values}\n")
    sys.stdout.flush()
    return plan, took


if __name__ == "__main__":
    main(sys.argv[1:])
