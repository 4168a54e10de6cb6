from datetime import timedelta

import pytest

from blockrun.cure import AgeClock, age_rate, air_temperature
from blockrun.site import Sky, Weather


@pytest.mark.parametrize(
    ("hour", "celsius"), [(15, 16.0), (3, 4.0), (9, 10.0), (21, 10.0), (12, 10 + 6 * 2**-0.5), (0, 10 - 6 * 2**-0.5)]
)
def test_air_is_warmest_at_15_and_coldest_at_3(weather_of, start, hour, celsius):
    assert air_temperature(weather_of((4, 16)), start, hour) == pytest.approx(celsius)


def test_each_day_uses_its_own_lowest_and_highest(weather_of, start):
    weather = weather_of((4, 16), (-2, 0))
    assert air_temperature(weather, start + timedelta(days=1), 15) == pytest.approx(0)
    assert air_temperature(weather, start + timedelta(days=1), 3) == pytest.approx(-2)


def test_a_day_without_a_range_is_the_same_at_all_hours(weather_of, start):
    assert [air_temperature(weather_of((7, 7)), start, hour) for hour in (0, 3.5, 15, 24)] == [7] * 4


def test_air_known_by_the_hour_runs_straight_between_its_hours(start):
    sky = Sky(tuple(range(25)))
    weather = Weather(start, ((0.0, 24.0),), skies=(sky,))
    assert air_temperature(weather, start, 7.25) == 7.25


def test_ages_follow_the_hours_where_they_are_known(start):
    """A day of 12 h at 20 degC and then 12 h at 0 degC, with an hour between; its mean alone would be another age."""
    sky = Sky((20.0,) * 12 + (0.0,) * 13)
    clock = AgeClock(Weather(start, ((0.0, 20.0),), skies=(sky,)), start)
    assert clock.age_h(0, 11 * 60) == pytest.approx(11 * age_rate(20.0))
    assert clock.age_h(12 * 60, 24 * 60) == pytest.approx(12 * age_rate(0.0))
