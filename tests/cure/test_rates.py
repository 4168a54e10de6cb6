"""The three rules of ageing: what they have in common, where they part, and what they refuse."""

from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.cure import AgeClock, age_rate, arrhenius_rate, nurse_saul_rate, rule_of
from blockrun.errors import OutOfRange
from blockrun.site import Curing

RULES = (age_rate, arrhenius_rate, partial(arrhenius_rate, activation_energy_kj_mol=45.5), nurse_saul_rate,
         partial(nurse_saul_rate, datum_c=0.0))  # fmt: skip


def curing(**settings):
    return Curing(strip_at_h=24.0, rack_for_min=0, lay_at_min=0, least_air_c=5.0, **settings)


@given(st.floats(-60, 80), st.floats(-60, 80), st.sampled_from(RULES))
def test_a_warmer_hour_is_never_worth_less(one_c, other_c, rule):
    colder, warmer = sorted((one_c, other_c))
    assert rule(colder) <= rule(warmer)


@given(st.floats(-15, 30), st.floats(0, 15), st.floats(0, 5), st.integers(0, 2000), st.sampled_from(RULES))
def test_colder_air_never_strips_sooner(weather_of, start, low, swing, colder, poured, rule):
    mild = AgeClock(weather_of((low, low + swing)), start, rule=rule)
    cold = AgeClock(weather_of((low - colder, low + swing - colder)), start, rule=rule)
    if float(rule(low - colder)) > 0.01:
        assert cold.when(poured, 12) >= mild.when(poured, 12)


def test_an_hour_at_20_degrees_is_an_hour():
    assert float(arrhenius_rate(20)) == 1
    assert float(nurse_saul_rate(20)) == 1


def test_a_cold_night_counts_least_where_the_activation_energy_is_high():
    assert arrhenius_rate(5, 45) < arrhenius_rate(5, 40) < arrhenius_rate(5, 33.3)
    assert float(arrhenius_rate(5, 33.3)) == pytest.approx(float(age_rate(5)), rel=0.01)


def test_at_the_datum_and_under_it_nothing_sets(weather_of, start):
    assert nurse_saul_rate([-12, -10, -9]).tolist() == [0, 0, pytest.approx(1 / 30)]
    clock = AgeClock(weather_of((-20, -15), (10, 30)), start, rule=nurse_saul_rate)
    assert clock.age_h(0, 1440) == 0
    assert clock.when(0, 0.01) > 1440


def test_a_site_is_aged_by_the_rule_it_names():
    celsius = np.array([-5.0, 10.0, 30.0])
    for settings, rule in (
        ({}, age_rate),
        ({"age": "arrhenius"}, partial(arrhenius_rate, activation_energy_kj_mol=40.0)),
        (
            {"age": "arrhenius", "activation_energy_kj_mol": 45.5},
            partial(arrhenius_rate, activation_energy_kj_mol=45.5),
        ),
        ({"age": "nurse-saul"}, partial(nurse_saul_rate, datum_c=-10.0)),
        ({"age": "nurse-saul", "datum_c": 0.0}, partial(nurse_saul_rate, datum_c=0.0)),
    ):
        assert rule_of(curing(**settings))(celsius).tolist() == rule(celsius).tolist()


@pytest.mark.parametrize(
    ("ask", "limit"),
    [
        (lambda: arrhenius_rate(20, 0), 0),
        (lambda: nurse_saul_rate(20, 20), 20),
        (lambda: arrhenius_rate(-60.1), -60),
        (lambda: nurse_saul_rate(80.1), 80),
    ],
)
def test_what_no_block_and_no_cement_has_is_refused(ask, limit):
    with pytest.raises(OutOfRange) as refused:
        ask()
    assert refused.value.limit == limit
