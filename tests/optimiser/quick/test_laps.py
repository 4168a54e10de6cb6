"""Plans put together lap by lap are real plans, end where laps end, and lose nothing of those that were known."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.laps import Lap, Laps
from blockrun.optimiser.quick.tries import Tried, Tries
from blockrun.optimiser.state import State, left_each_evening, morning
from tests.optimiser.quick.kept import broken
from tests.optimiser.small import BLOCK, MOULD, NEXT_DAY, YARD, days

HORIZON = 60
RACK_DAYS = 7


def yard(places: int = 12, demand: int = 24) -> Problem:
    """Four cavities filled every other day or so, and a rack that is full within the first week."""
    of = np.arange(HORIZON * MINUTES_A_DAY) + NEXT_DAY
    return replace(
        YARD,
        days=tuple(day for day in days(numbers=range(HORIZON)) if day.number % 7 != 6),
        horizon=HORIZON,
        formats=(replace(BLOCK, demand=demand), replace(BLOCK, demand=demand, volume=60)),
        moulds=(replace(MOULD, count=4, casts=frozenset({0, 1})),),
        move=tuple(range(10)),
        places=places,
        rack_for=RACK_DAYS * MINUTES_A_DAY,
        ripe_strip=(np.where(of < HORIZON * MINUTES_A_DAY, of, -1).astype(np.int32),),
        clear_until=np.full(HORIZON, HORIZON - 1, dtype=np.int32),
    )


def known(problem: Problem, seed: int = 0) -> tuple[Tries, list[Tried]]:
    tries = Tries(Ground(problem, Limits(problem)), seed, lambda: False)
    return tries, sorted(tries.openings(), key=lambda tried: tried.score)


def poured_by(problem: Problem, state: State, position: int) -> int:
    return sum(block.demand for block in problem.formats) - left_each_evening(problem, state)[position]


def test_laps_end_at_one_minute_a_rack_time_apart_the_last_with_the_last_foam_of_the_day_before_the_last() -> None:
    problem = yard()
    tries, plans = known(problem)
    laps = Laps(tries, plans)
    assert laps.last == problem.position(plans[0].score.finish) - 1
    assert laps.all[-1].until == laps.last
    assert laps.all[-1].minute == problem.days[laps.last].last_foam
    assert len(laps.all) > 2
    assert {later.minute - lap.minute for lap, later in pairwise(laps.all)} == {problem.rack_for}
    for lap in laps.all:
        assert problem.days[lap.until].opens < lap.minute <= problem.days[lap.until + 1].opens


def test_a_rack_time_of_a_day_makes_laps_of_three() -> None:
    problem = replace(yard(), rack_for=MINUTES_A_DAY)
    laps = Laps(*known(problem))
    assert {later.minute - lap.minute for lap, later in pairwise(laps.all)} == {3 * MINUTES_A_DAY}


@pytest.mark.parametrize("rack_for", [0, 100 * MINUTES_A_DAY])
def test_each_day_is_a_lap_where_no_rack_is_filled_twice(rack_for: int) -> None:
    problem = replace(yard(1000), rack_for=rack_for)
    laps = Laps(*known(problem))
    assert laps.by_day
    assert laps.all == [Lap(day, problem.days[day].last_foam) for day in range(laps.last + 1)]
    assert not Laps(*known(yard())).by_day


def test_where_each_day_is_a_lap_they_keep_every_rule_and_have_poured_no_less_by_their_last_day() -> None:
    problem = replace(yard(9), rack_for=0)
    tries, plans = known(problem)
    laps = Laps(tries, plans, "test")
    found = laps.plans(20)
    assert [fault for tried in found for fault in broken(problem, tried.state)] == []
    most = max(poured_by(problem, tried.state, laps.last) for tried in found)
    assert most >= max(poured_by(problem, tried.state, laps.last) for tried in plans)


def test_where_each_day_is_a_lap_what_is_poured_sooner_in_it_is_better() -> None:
    problem = replace(yard(), rack_for=0)
    tries, plans = known(problem)
    laps, state = Laps(tries, plans), plans[0].state
    of_a_day = morning(state, problem.days[1].number, 1)
    assert of_a_day.turns
    later = [replace(batch, start=batch.start + 30) for batch in of_a_day.batches]
    moved = dict(zip(map(id, of_a_day.batches), later, strict=True))
    turns = [
        replace(turn, fills=[(casting, moved[id(batch)]) for casting, batch in turn.fills]) for turn in of_a_day.turns
    ]
    slower = replace(of_a_day, batches=later, turns=turns)
    assert laps._worth(laps.all[0], slower) < laps._worth(laps.all[0], of_a_day)


def test_there_are_none_before_the_first_day() -> None:
    assert Laps(*known(replace(YARD, cement=YARD.cement))).last <= 0
    assert Laps(*known(YARD)).all == []


@pytest.mark.parametrize("seed", range(3))
def test_their_plans_keep_every_rule_and_the_same_seed_makes_the_same(seed: int) -> None:
    problem = yard()
    tries, plans = known(problem, seed)
    found, again = (Laps(tries, plans, "test").plans(10) for _ in range(2))
    assert found
    assert [fault for tried in found for fault in broken(problem, tried.state)] == []
    assert [tried.score for tried in found] == [tried.score for tried in again]


@pytest.mark.parametrize("places", [9, 12, 16])
def test_by_their_last_day_they_have_poured_no_less_than_the_plans_they_begin_with(places: int) -> None:
    problem = yard(places)
    tries, plans = known(problem)
    laps = Laps(tries, plans, "test")
    most = max(poured_by(problem, tried.state, laps.last) for tried in laps.plans(20))
    assert most >= max(poured_by(problem, tried.state, laps.last) for tried in plans)


def test_where_the_first_lap_decides_they_pour_more_by_then() -> None:
    problem = yard(9)
    tries, plans = known(problem)
    worst = max(plans, key=lambda tried: tried.score)
    laps = Laps(tries, [worst], "test")
    most = max(poured_by(problem, tried.state, laps.last) for tried in laps.plans(30))
    assert most > poured_by(problem, worst.state, laps.last)


def test_blocks_left_for_one_kind_of_mould_count_beyond_its_share_of_all_that_is_left() -> None:
    gang = yard().moulds[0]
    problem = replace(
        yard(),
        moulds=tuple(replace(gang, count=count, casts=frozenset({number})) for number, count in enumerate((3, 1))),
        ripe_strip=yard().ripe_strip * 2,
        ripe_sides=(None, None),
    )
    laps = Laps(*known(problem))
    assert [laps._uneven(left) for left in ((6, 2), (5, 3), (8, 0), (0, 0))] == [0, 1, 2, 0]
    either = replace(problem, moulds=tuple(replace(mould, casts=frozenset({0, 1})) for mould in problem.moulds))
    assert Laps(*known(either))._uneven((0, 8)) == 0


def test_they_go_on_from_the_yard_as_it_stands() -> None:
    problem = yard()
    tries, plans = known(problem)
    begun = morning(plans[0].state, problem.days[5].number, 5)
    later = tries.going_on(begun)
    found = Laps(later, list(later.openings(begun)), "test").plans(10)
    assert found
    for tried in found:
        assert tried.state.batches[: len(begun.batches)] == begun.batches
        assert broken(problem, tried.state) == []


def test_none_come_once_they_are_to_stop() -> None:
    problem = yard()
    tries, plans = known(problem)
    stopped = Tries(tries.ground, 0, lambda: True)
    assert Laps(stopped, plans, "test").plans(10) == []
