"""The age clock against a plain loop that shares nothing with it."""

import math
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockrun.cure import AgeClock, age_rate
from blockrun.errors import OutOfRange

APRIL = ((-1, 8), (2, 14), (5, 19), (0, 3))


def slow_rates(weather, start, n_minutes):
    """Hours at 20 degC of each minute, one by one."""
    rates = []
    for minute in range(n_minutes):
        air = weather.day(start + timedelta(days=minute // 1440))
        hour = (minute % 1440 + 0.5) / 60
        celsius = (air.min_c + air.max_c) / 2 + (air.max_c - air.min_c) / 2 * math.cos(2 * math.pi * (hour - 15) / 24)
        rates.append(math.exp(13.65 - 4000 / (273 + celsius)) / 60)
    return rates


@pytest.fixture
def april(weather_of):
    return weather_of(*APRIL)


@pytest.mark.parametrize(
    ("from_min", "to_min"), [(0, 1), (0, 1440), (600, 601), (555, 2000), (1439, 1441), (700, 6543)]
)
def test_ages_agree_with_a_plain_loop(april, start, from_min, to_min):
    expected = math.fsum(slow_rates(april, start, to_min)[from_min:])
    assert AgeClock(april, start).age_h(from_min, to_min) == pytest.approx(expected, abs=1e-10)


@pytest.mark.parametrize(("from_min", "hours"), [(0, 24), (570, 18), (570, 24), (1000, 0.01), (2000, 60.5)])
def test_when_is_the_minute_at_which_a_plain_loop_gets_there(april, start, from_min, hours):
    age, minute = 0.0, from_min
    for rate in slow_rates(april, start, 12000)[from_min:]:
        if age >= hours - 1e-9:
            break
        age += rate
        minute += 1
    assert AgeClock(april, start).when(from_min, hours) == minute


def test_steps_of_one_minute_agree_with_steps_of_fifteen(april, start):
    quarter_hours = np.add.reduceat(slow_rates(april, start, 4 * 1440), np.arange(0, 4 * 1440, 15))
    assert AgeClock(april, start).age_h(0, 4 * 1440) == pytest.approx(quarter_hours.sum(), rel=1e-12)


@given(from_min=st.integers(0, 20000), hours=st.floats(0, 100), low=st.floats(-15, 20), swing=st.floats(0, 15))
@settings(max_examples=40, deadline=None)
def test_when_is_tight_from_both_sides(weather_of, start, from_min, hours, low, swing):
    clock = AgeClock(weather_of((low, low + swing)), start, days=1)
    ripe = clock.when(from_min, hours)
    assert clock.age_h(from_min, ripe) >= hours - 2e-9
    assert ripe == from_min or clock.age_h(from_min, ripe - 1) < hours


@given(st.integers(0, 5000), st.integers(0, 3000), st.floats(0, 60))
@settings(max_examples=40, deadline=None)
def test_a_later_pour_is_never_ripe_sooner(weather_of, start, from_min, wait, hours):
    clock = AgeClock(weather_of(*APRIL), start)
    assert clock.when(from_min, hours) <= clock.when(from_min + wait, hours)


def test_arrays_give_what_their_numbers_give(april, start):
    clock = AgeClock(april, start)
    minutes = np.array([[0, 571, 1440], [2000, 2001, 9000]])
    assert clock.when(minutes, 24).tolist() == [[clock.when(int(m), 24) for m in row] for row in minutes]
    ages = clock.age_h(0, minutes)
    assert ages.shape == (2, 3)
    assert ages[1, 2] == clock.age_h(0, 9000)
    assert clock.when(np.array([], dtype=int), 24).size == 0


def test_numbers_give_plain_numbers(april, start):
    clock = AgeClock(april, start)
    assert type(clock.when(0, 1)) is int
    assert type(clock.age_h(0, 1)) is float


def test_an_age_short_by_a_speck_of_rounding_is_reached_and_short_by_more_is_not(april, start):
    clock = AgeClock(april, start)
    age = clock.age_h(600, 2000)
    assert clock.when(600, age + 5e-10) == 2000
    assert clock.when(600, age + 2e-9) == 2001


def test_no_hours_are_reached_at_once(april, start):
    clock = AgeClock(april, start)
    assert clock.when(777, 0) == 777


def test_the_table_grows_to_the_same_ages_that_a_long_one_holds(april, start):
    minutes = np.arange(200 * 1440 + 1)
    short, long = AgeClock(april, start, days=1), AgeClock(april, start, days=200)
    assert short.when(100_000, 700) == long.when(100_000, 700)
    assert (short.age_h(0, minutes) == long.age_h(0, minutes)).all()


def test_a_cold_month_is_waited_out(weather_of, start):
    frost = weather_of(*[(-20, -10)] * 30, *[(15, 25)] * 7)
    assert AgeClock(frost, start, days=1).when(0, 24 * 10) > 30 * 1440


def test_minutes_before_the_first_day_are_refused(april, start):
    clock = AgeClock(april, start)
    for ask in (lambda: clock.age_h(-1, 5), lambda: clock.when(-1, 5)):
        with pytest.raises(OutOfRange, match="before the first day"):
            ask()


def test_an_age_never_runs_backwards(april, start):
    clock = AgeClock(april, start)
    assert clock.age_h(5, 5) == 0
    with pytest.raises(OutOfRange, match="backwards"):
        clock.age_h(6, 5)


@pytest.mark.parametrize("hours", [-0.1, float("nan"), float("inf")])
def test_hours_that_are_no_age_are_refused(april, start, hours):
    clock = AgeClock(april, start)
    with pytest.raises(OutOfRange, match="zero or more"):
        clock.when(0, hours)


def test_an_age_more_than_ten_years_away_is_refused(weather_of, start):
    clock = AgeClock(weather_of((-60, -60)), start, days=1)
    assert clock.age_h(0, 3660 * 1440) > 0
    with pytest.raises(OutOfRange, match="ten years"):
        clock.when(0, 1e6)
    with pytest.raises(OutOfRange, match="ten years"):
        clock.age_h(0, 3660 * 1440 + 1)


def test_rates_hold_from_60_below_to_80_above_and_no_further():
    assert age_rate([-60, 80]) == pytest.approx([math.exp(13.65 - 4000 / 213), math.exp(13.65 - 4000 / 353)])
    for celsius, limit in ((-60.1, -60), (80.1, 80), (float("nan"), -60)):
        with pytest.raises(OutOfRange, match="-60 to 80 degC") as refused:
            age_rate(celsius)
        assert refused.value.limit == limit
