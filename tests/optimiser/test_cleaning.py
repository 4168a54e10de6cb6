"""Cleaning is counted when it is done, which may be a day before the mould is filled again.

One person, no washing, four moulds. A day has eighty minutes: four batches fill it. So the moulds must be stripped and
cleaned on the day between, and counts that put the cleaning on the day of the refill would forbid this plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest

from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.counts import Counts
from blockrun.optimiser.engine import run
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import Batch, Span, State, Turn
from tests.optimiser.held import hold
from tests.optimiser.small import BLOCK, EFFORT, LOAD, MOULD, OPENS, YARD, at, days, ripe

BUSY = replace(
    YARD,
    days=days(people=1, windows=((OPENS, OPENS + 80),)),
    formats=(replace(BLOCK, demand=8),),
    moulds=(replace(MOULD, count=4, cavities=1, strip=4, clean=10),),
    loads=(replace(LOAD, room=100),),
    ripe_strip=(ripe(1360),),
)


def turns() -> Iterator[Turn]:
    for day, nth in product((0, 2), range(4)):
        batch = Batch(BUSY.loads[0], at(day, OPENS + 20 * nth), {0: 1})
        strip, clean = at(day + 1, OPENS + 15 * nth), at(day + 1, OPENS + 15 * nth + 5)
        yield Turn(0, [(0, batch)], None, Span(strip, strip + 4), Span(clean, clean + 10))


def plan() -> State:
    made = list(turns())
    return State(4, made, [batch for turn in made for _, batch in turn.fills])


def test_the_plan_keeps_the_rules_of_the_counts() -> None:
    limits = Limits(BUSY)
    counts = Counts(BUSY, limits, limits.when, State(), 2)
    hold(counts, plan())
    assert run(counts.model, EFFORT).found


@pytest.mark.parametrize("finish", [2, 3, 5])
def test_the_bound_on_the_last_pour_is_no_later_than_the_plan(finish: int) -> None:
    worse = replace(score(BUSY, plan()), finish=finish)
    assert Bounds(BUSY, Limits(BUSY), EFFORT).finish(worse) <= 2


def test_the_plan_is_as_good_as_can_be() -> None:
    reached = score(BUSY, plan())
    assert reached == Score(0, finish=2, batches=8, cement=16, pours=reached.pours, turns=8)
    bounds = Bounds(BUSY, Limits(BUSY), EFFORT)
    assert (bounds.finish(reached), bounds.batches(reached), bounds.cement(reached)) == (2, 8, 16)
