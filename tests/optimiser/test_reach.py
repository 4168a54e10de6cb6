from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from blockrun.optimiser.crew import batch_starts, batch_windows
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Chore
from blockrun.optimiser.reach import Reach
from tests.optimiser.small import CLOSES, HORIZON, LOAD, ON_BASES, OPENS, YARD, at, days, frost_on, ripe
from tests.optimiser.tiny_yards import tiny

UNTIL = HORIZON - 3


def test_the_chain_of_a_mould_that_is_ripe_overnight_begins_a_turn_a_day() -> None:
    assert Reach(YARD).chain(0, at(0, OPENS), base=True, until=4) == [0, 1, 2, 3, 4]


def test_the_chain_waits_where_the_night_is_too_short() -> None:
    # poured at 500, ripe at 520 the day after next
    slow = Reach(replace(YARD, ripe_strip=(ripe(2 * MINUTES_A_DAY + 20),)))
    assert slow.chain(0, at(0, OPENS), base=True, until=7) == [0, 2, 4, 6]


def test_a_mould_just_freed_waits_for_the_batch_where_it_takes_everybody() -> None:
    free = at(1, 500)
    alone, two = (Reach(replace(YARD, days=days(people=people))) for people in (1, 2))
    assert two.next_pour(0, free) == free
    assert alone.next_pour(0, free) == free + LOAD.to_pour


@pytest.mark.parametrize("seed", range(12))
def test_what_is_free_later_is_never_filled_sooner_or_more_often(seed: int) -> None:
    problem = tiny(seed)
    reach = Reach(problem)
    for mould in range(len(problem.moulds)):
        minutes = range(0, 4 * MINUTES_A_DAY, 7)
        pours = [reach.first_pour(mould, minute) or 1 << 30 for minute in minutes]
        chains = [reach.chain(mould, minute, base=True, until=12) for minute in minutes[::9]]
        assert pours == sorted(pours)
        for sooner, later in pairwise(chains):
            assert len(later) <= len(sooner)
            assert all(a <= b for a, b in zip(sooner, later, strict=False))


@pytest.mark.parametrize("seed", range(12))
def test_poured_later_is_never_stripped_or_free_sooner(seed: int) -> None:
    problem = tiny(seed)
    reach = Reach(problem)
    for mould in range(len(problem.moulds)):
        poured = range(0, 3 * MINUTES_A_DAY, 7)
        for follow in (reach.stripped, lambda k, minute, r=reach: r.free_again(k, minute, base=True)):
            ends = [follow(mould, minute) or 1 << 30 for minute in poured]
            assert ends == sorted(ends)


def test_a_stripped_mould_is_free_once_clean() -> None:
    # ripe at 60 minutes past midnight, stripped from opening on
    assert Reach(YARD).stripped(0, at(0, 500)) == at(1, OPENS + 10)
    assert Reach(YARD).free_again(0, at(0, 500), base=True) == at(1, OPENS + 15)


def test_sides_come_off_before_the_base_is_free() -> None:
    reach = Reach(ON_BASES)
    assert reach.free_again(0, at(0, 500), base=False) == at(0, 536)
    assert reach.free_again(0, at(0, 500), base=True) == at(1, OPENS + 15)


def test_no_turn_begins_that_cannot_be_stripped_before_frost() -> None:
    reach = Reach(replace(YARD, clear_until=frost_on(2)))
    assert reach.first_pour(0, at(0, OPENS)) == at(0, OPENS + LOAD.to_pour)
    assert reach.first_pour(0, at(1, OPENS)) == at(3, OPENS + LOAD.to_pour)


def test_a_batch_does_not_run_through_a_chore_that_needs_its_crew() -> None:
    day = replace(YARD.days[0], chores=(Chore(500, 510, 1),))
    assert batch_windows(day, 1) == [(480, 600), (620, 800)]
    assert batch_windows(day, 2) == [(480, 500), (510, 600), (620, 800)]
    assert batch_windows(day, 3) == []


def test_the_last_batch_ends_by_closing_and_its_foam_goes_in_in_time() -> None:
    day = YARD.days[0]
    assert batch_starts(day, LOAD) == [(480, 580), (620, CLOSES - 20)]
    assert batch_starts(replace(day, last_foam=650), LOAD)[-1] == (620, 642)
    assert batch_starts(replace(day, last_foam=520), LOAD) == [(480, 512)]


def test_no_batch_starts_whose_foam_would_go_in_at_an_hour_too_hot_for_it() -> None:
    """Twelve minutes from the foam: ten keep too short from 500 to 540, twelve do until 560."""
    day = replace(YARD.days[0], hot=((500, 540, 10), (540, 560, 12)))
    assert batch_starts(day, LOAD) == [(480, 491), (532, 580), (620, CLOSES - 20)]
    assert batch_starts(day, replace(LOAD, pour=11)) == [(480, 491), (552, 579), (620, CLOSES - 21)]
    assert batch_starts(day, replace(LOAD, hardy=True)) == batch_starts(YARD.days[0], LOAD)
    all_day = replace(day, hot=((480, CLOSES, 0),))
    assert batch_starts(all_day, LOAD) == []


def test_a_day_with_more_turns_than_moulds_needs_refills_the_same_day() -> None:
    assert Limits(YARD).chains.turns_on(0, 0) == 2
    assert Limits(replace(YARD, ripe_strip=(ripe(60),))).chains.turns_on(0, 0) > 2
