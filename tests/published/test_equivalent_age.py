"""Equivalent age against the formulas of the codes, as another library has them."""

from datetime import date

import pytest
from structuralcodes.codes import ec2_2004, mc2010

from blockrun.cure import AgeClock, age_rate
from blockrun.site import Weather

# EN 1992-1-1:2004 (B.10) and fib Model Code 2010 (5.1-85), computed with structuralcodes 0.7.2: days at 20 degC that
# one day at T is worth. Tolerance 1e-6, the digits printed.
ONE_DAY = {
    -5: 0.279327,
    0: 0.367139,
    5: 0.477835,
    10: 0.616143,
    15: 0.787502,
    20: 0.998125,
    25: 1.255057,
    30: 1.566243,
    35: 1.940580,
    40: 2.387979,
}


@pytest.mark.parametrize(("celsius", "days"), ONE_DAY.items())
def test_one_day_at_a_temperature(celsius, days):
    assert float(age_rate(celsius)) == pytest.approx(days, abs=1e-6)


@pytest.mark.parametrize("code", [ec2_2004, mc2010])
@pytest.mark.parametrize("celsius", range(-30, 81, 5))
def test_one_day_is_what_the_library_installed_says(code, celsius):
    assert float(age_rate(celsius)) == pytest.approx(float(code.t_T(celsius, 1.0)), rel=1e-12)


# The same library: temperatures in degC held for whole days, and the age in days. Tolerance 1e-5.
@pytest.mark.parametrize(
    ("history", "days"),
    [
        ([(10, 2), (20, 3), (30, 4)], 10.491633),
        ([(5, 1), (15, 2), (25, 3)], 5.818012),
        ([(5, 3)], 1.43351),
        ([(10, 3)], 1.84843),
        ([(30, 3)], 4.69873),
        ([(5, 7)], 3.34485),
    ],
)
def test_the_age_clock_sums_a_history_of_days(history, days):
    start = date(2027, 4, 5)
    by_day = [celsius for celsius, n_days in history for _ in range(n_days)]
    held = Weather(start, tuple((celsius, celsius) for celsius in by_day))
    clock = AgeClock(held, start, days=len(by_day))
    assert clock.age_h(0, len(by_day) * 1440) / 24 == pytest.approx(days, abs=1e-5)
