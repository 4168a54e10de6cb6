"""Evaporation and what the weather of a day holds for fresh blocks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.cure.evaporation import evaporation_kg_m2_h
from blockrun.cure.hazards import Hazards, hazards
from blockrun.errors import OutOfRange
from blockrun.site import DayWeather, Sky

MORNING, EVENING = 450, 990


def day(low: float, high: float, **sky: object) -> DayWeather:
    return DayWeather(low, high, forecast=True, sky=Sky(**sky))


@given(st.floats(0, 40), st.floats(0, 40), st.floats(0, 1), st.floats(0, 100), st.floats(0.1, 20))
def test_more_wind_or_drier_air_never_dries_slower(surface, air, humidity, wind, more):
    rate = evaporation_kg_m2_h(surface, air, humidity, wind)
    assert evaporation_kg_m2_h(surface, air, humidity, wind + more) >= rate
    assert evaporation_kg_m2_h(surface, air, humidity / 2, wind) >= rate


def test_where_water_would_settle_nothing_evaporates():
    assert evaporation_kg_m2_h(5, 25, 0.9, 10) == 0


@pytest.mark.parametrize(
    ("given_", "name"),
    [
        ((61, 20, 0.5, 5), "surface"),
        ((20, -16, 0.5, 5), "air"),
        ((20, 20, 50, 5), "humidity"),
        ((20, 20, 1, -1), "wind"),
    ],
)
def test_outside_its_limits_evaporation_is_refused(given_, name):
    with pytest.raises(OutOfRange) as caught:
        evaporation_kg_m2_h(*given_)
    assert caught.value.name == name


def test_a_mild_day_holds_nothing():
    assert hazards(day(8, 20), MORNING, EVENING) == Hazards()


def test_frost_and_cold_count_at_any_hour_and_exclude_each_other():
    assert hazards(day(-1, 9), MORNING, EVENING) == Hazards(freezes_c=-1)
    assert hazards(day(0, 9), MORNING, EVENING) == Hazards(freezes_c=0)
    assert hazards(day(4.9, 9), MORNING, EVENING) == Hazards(cold_c=4.9)


def test_heat_counts_in_the_working_hours_alone():
    assert hazards(day(18, 31), MORNING, EVENING) == Hazards(hot_c=31)
    assert hazards(day(18, 31), MORNING, 600) == Hazards()
    night = Sky(air_c=(35.0, *(20.0,) * 24))
    assert hazards(DayWeather(20, 35, True, sky=night), MORNING, EVENING) == Hazards()


def test_a_dry_wind_is_told_where_wind_and_humidity_are_known():
    assert hazards(day(15, 25, wind_km_h=(30.0,)), MORNING, EVENING) == Hazards(wind_km_h=30.0)
    found = hazards(day(15, 25, wind_km_h=(30.0,), humidity=(0.4,)), MORNING, EVENING)
    assert found.dries_kg_m2_h == pytest.approx(evaporation_kg_m2_h(25, 25, 0.4, 30))


def test_the_windiest_working_hour_counts():
    calm = (5.0,) * 25
    gust = (*calm[:14], 60.0, *calm[15:])
    air = (20.0,) * 25
    still = hazards(day(20, 20, air_c=air, wind_km_h=calm, humidity=(0.4,) * 25), MORNING, EVENING)
    windy = hazards(day(20, 20, air_c=air, wind_km_h=gust, humidity=(0.4,) * 25), MORNING, EVENING)
    at_night = hazards(day(20, 20, air_c=air, wind_km_h=(60.0, *calm[1:]), humidity=(0.4,) * 25), MORNING, EVENING)
    assert still == at_night == Hazards()
    assert windy.dries_kg_m2_h == pytest.approx(evaporation_kg_m2_h(20, 20, 0.4, 60))
