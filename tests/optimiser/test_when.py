"""What may come how soon; and that what is told with a delay never bounds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.optimiser import bounds
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.counts import Counts
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.score import Score
from blockrun.optimiser.when import When
from tests.optimiser.small import BLOCK, EFFORT, OPENS, YARD, at

DELAY = 60


def test_the_first_pour_of_a_day_ends_a_batch_after_opening_and_with_a_delay_so_much_later() -> None:
    limits = Limits(YARD)
    slot = limits.slots.of_day[0][0]
    later = When(YARD, limits.reach, limits.slots, DELAY)
    assert limits.when.first_poured(0, slot) == at(0, OPENS + 20)
    assert later.first_poured(0, slot) == at(0, OPENS + 20 + DELAY)


def test_whatever_is_asked_nothing_comes_sooner_with_a_delay() -> None:
    limits = Limits(YARD)
    later = When(YARD, limits.reach, limits.slots, DELAY)
    for slot in range(len(limits.slots.all)):
        assert later.strip_slot(0, slot) >= limits.when.strip_slot(0, slot)
        assert later.refill_slot(0, slot) >= limits.when.refill_slot(0, slot)
        assert later.ready_day(0, slot) >= limits.when.ready_day(0, slot)


def test_every_bound_is_counted_without_a_delay(monkeypatch: pytest.MonkeyPatch) -> None:
    problem = replace(YARD, formats=(replace(BLOCK, demand=12, needs=((3, 6),)),))
    delays = []

    class Heard(Counts):
        def __post_init__(self) -> None:
            delays.append(self.when.delay)
            super().__post_init__()

    monkeypatch.setattr(bounds, "Counts", Heard)
    of = Bounds(problem, Limits(problem), EFFORT)
    worse = Score(late=1000, finish=problem.days[-1].number, batches=1000, cement=1000, pours=0, turns=0)
    assert [of.late(worse), of.finish(worse), of.batches(worse), of.cement(worse)] == [0, 2, 6, 12]
    assert not of.stock_is_short
    assert not of.impossible
    assert len(delays) >= 3
    assert set(delays) == {0}
