"""What is packed is the true minimum: held against a cover by all ways to fill a batch, on invented days."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from blockrun.optimiser.mixing import Ceiling
from blockrun.optimiser.pack import Filling, pack
from tests.optimiser.packing.covering import Covering, fullest
from tests.optimiser.packing.days import PackedDay, a_day
from tests.optimiser.small import BLOCK, EFFORT, LOAD, YARD

SEEDS = range(200)


@cache
def day(seed: int) -> PackedDay:
    return a_day(seed)


@cache
def packed(seed: int, *, thrifty: bool) -> tuple[Filling, ...] | None:
    of = day(seed)
    found = pack(of.problem, of.wanted, of.ceilings, EFFORT, thrifty=thrifty, cubes=of.cubes)
    return None if found is None else tuple(found)


def cement_of(of: PackedDay, batches: tuple[Filling, ...]) -> int:
    return sum(of.problem.loads[batch.load].cement for batch in batches)


@pytest.mark.parametrize("thrifty", [False, True])
@pytest.mark.parametrize("seed", SEEDS)
def test_batches_and_cement_are_the_true_minimum(seed: int, thrifty: bool) -> None:
    batches = packed(seed, thrifty=thrifty)
    found = None if batches is None else (len(batches), cement_of(day(seed), batches))
    assert found == Covering(day(seed)).least(thrifty=thrifty)


@pytest.mark.parametrize("thrifty", [False, True])
@pytest.mark.parametrize("seed", SEEDS)
def test_batches_hold_what_they_pour_and_give_the_sets_due(seed: int, thrifty: bool) -> None:
    of, batches = day(seed), packed(seed, thrifty=thrifty)
    if batches is None:  # the mixers do not manage it: the other test holds them to that
        return
    poured: Counter[int] = Counter()
    for batch in batches:
        load = of.problem.loads[batch.load]
        assert {of.problem.castings[block].mix for block in batch.content} <= {load.mix}
        volume = sum(of.problem.castings[block].volume * count for block, count in batch.content.items())
        assert volume + batch.cubes * (of.problem.cubes.volume if of.problem.cubes else 0) <= load.room
        poured.update(batch.content)
    assert poured == Counter(of.wanted)
    assert all(ceiling.holds(batch.load for batch in batches) for ceiling in of.ceilings)
    for mix, due in of.cubes.items():
        of_mix = tuple(batch for batch in batches if of.problem.loads[batch.load].mix == mix)
        assert sum(batch.cubes for batch in of_mix) >= due.fewest(cement_of(of, of_mix))


def test_the_days_are_of_every_kind() -> None:
    days = [day(seed) for seed in SEEDS]
    impossible = sum(packed(seed, thrifty=False) is None for seed in SEEDS)
    assert 10 < impossible < 60
    for kinds in (
        [len({load.mix for load in of.problem.loads}) for of in days],
        [len({load.mixer for load in of.problem.loads}) for of in days],
        [1 + bool(of.ceilings) for of in days],
        [1 + bool(of.cubes) for of in days],
    ):
        assert min(kinds.count(1), kinds.count(2)) > 40


def test_thrift_saves_cement_on_some_days_and_never_costs_any() -> None:
    both = [(packed(seed, thrifty=False), packed(seed, thrifty=True)) for seed in SEEDS]
    saved = [
        cement_of(day(seed), fewest) - cement_of(day(seed), thrifty)
        for seed, (fewest, thrifty) in zip(SEEDS, both, strict=True)
        if fewest is not None and thrifty is not None
    ]
    assert min(saved) >= 0
    assert max(saved) > 0


def test_a_small_mixer_takes_up_what_the_big_one_has_no_time_for() -> None:
    """Four blocks, two in the one batch of the big mixer and one in each of the two of the small one."""
    loads = (replace(LOAD, cement=2, room=200), replace(LOAD, mixer=1, cement=1, room=100))
    problem = replace(YARD, formats=(replace(BLOCK, volume=100),), loads=loads)
    batches = pack(problem, {0: 4}, [Ceiling({}, {0: 1}, 1), Ceiling({}, {1: 1}, 2)], EFFORT)
    assert batches is not None
    assert [batch.load for batch in batches] == [0, 1, 1]


def test_thrift_takes_as_many_small_batches_as_save_cement() -> None:
    """Twelve blocks fill six batches of 3 to the brim; filled biggest first they take four batches of 5."""
    loads = tuple(replace(LOAD, cement=cement, room=100 * cement) for cement in (3, 4, 5))
    problem = replace(YARD, formats=(replace(BLOCK, volume=150),), loads=loads)
    batches = pack(problem, {0: 12}, (), EFFORT, thrifty=True)
    assert batches is not None
    assert sum(loads[batch.load].cement for batch in batches) == 18


def test_the_fullest_ways_are_those_that_nothing_more_goes_into() -> None:
    assert sorted(fullest([4, 3], [2, 2], 10)) == [(1, 2), (2, 0)]
    assert sorted(fullest([4, 3], [1, 1], 10)) == [(1, 1)]
