"""Arrhenius and Nurse-Saul against published figures."""

import math
from datetime import date

import pytest

from blockrun.cure import AgeClock, age_rate, arrhenius_rate, nurse_saul_rate
from blockrun.site import Weather

START = date(2027, 4, 5)


# Q = E/R = 5000 K, suggested for Type I cement by ASTM C1074; tables worked out from the formula with 273 in place of
# 273.15, which the tolerance of 0.002 covers. Reference 20 degC.
@pytest.mark.parametrize(
    ("celsius", "rate"),
    [(0, 0.2865), (5, 0.3982), (10, 0.5472), (15, 0.7436), (23, 1.1888), (30, 1.7563), (40, 2.9755)],
)
def test_arrhenius_with_5000_kelvins(celsius, rate):
    assert float(arrhenius_rate(celsius, 5000 * 8.314 / 1000)) == pytest.approx(rate, rel=0.002)


# The same with the American reference of 23 degC: the ratio of two rates.
@pytest.mark.parametrize(("celsius", "rate"), [(10, 0.4603), (20, 0.8412), (30, 1.4773)])
def test_arrhenius_told_at_23_degrees(celsius, rate):
    energy = 5000 * 8.314 / 1000
    assert float(arrhenius_rate(celsius, energy) / arrhenius_rate(23, energy)) == pytest.approx(rate, rel=0.002)


def test_hydration_at_40_degrees_is_3_3_times_as_fast_as_at_20():
    # NIST, computer modelling of hydration (web page of an American Ceramic Society paper, 2005, node 6): an activation
    # energy of 45.5 kJ/mol means about 3.3 times. Tolerance 0.05; the formula gives 3.2947.
    assert float(arrhenius_rate(40, 45.5)) == pytest.approx(3.3, abs=0.05)
    assert float(arrhenius_rate(40, 45.5)) == pytest.approx(3.2947, abs=5e-5)


def test_arrhenius_as_a_finite_element_code_writes_it():
    # OOFEM, hydrating-concrete material (source): exp[E/R (1/T_ref - 1/T)], 273.15; by default E 38.4 kJ/mol and T_ref
    # 25 degC.
    written = math.exp(38400 / 8.314 * (1 / 298.15 - 1 / 283.15))
    assert float(arrhenius_rate(10, 38.4) / arrhenius_rate(25, 38.4)) == pytest.approx(written, rel=1e-12)


def degree_hours(history, datum_c):
    """Sum of (T - datum) over (hours, degC)."""
    at_20 = sum(hours * float(nurse_saul_rate(celsius, datum_c)) for hours, celsius in history)
    return at_20 * (20 - datum_c)


@pytest.mark.parametrize(
    ("history", "datum_c", "sum_c_h"),
    [
        ([(12, 20), (12, 25)], 0, 540),  # worked example of a public explainer page on the Nurse-Saul function
        ([(12, 10), (12, 20)], -10, 600),  # arithmetic
        ([(28 * 24, 20)], -10, 20_160),  # arithmetic: 28 days at 20 degC
    ],
)
def test_nurse_saul_sums_of_degree_hours(history, datum_c, sum_c_h):
    assert degree_hours(history, datum_c) == pytest.approx(sum_c_h, rel=1e-12)


# ASTM C1074 form over the same sum at 20 degC; arithmetic.
@pytest.mark.parametrize(("datum_c", "hours"), [(-10, 16), (0, 12)])
def test_a_day_at_10_degrees_by_nurse_saul(datum_c, hours):
    def rule(celsius):
        return nurse_saul_rate(celsius, datum_c)

    assert AgeClock(Weather(START, ((10, 10),)), START, rule=rule).age_h(0, 1440) == pytest.approx(hours, rel=1e-12)


def test_the_rule_of_the_european_codes_is_arrhenius_with_33_3_kj_mol():
    # 4000 K x 8.314 J/(mol K) = 33.26 kJ/mol; the codes round 13.65 and use 273. Relative tolerance 0.5 %.
    for celsius in (-10, 0, 10, 30, 40):
        assert float(age_rate(celsius)) == pytest.approx(float(arrhenius_rate(celsius, 33.256)), rel=0.005)
